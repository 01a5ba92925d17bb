/** Stands in for node:child_process in the bundle: commander asks for it at its start, to run commands that are programs of their own. There are none, and loading it takes a noticeable part of our start. */
export function spawn(): never {
  throw new Error('no command is a program of its own');
}
