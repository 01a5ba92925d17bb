import { fstatSync, statSync, writeSync } from 'node:fs';
import { fileError } from '../run/file-error.ts';

/** Everything of the process that a command may touch. */
export interface Io {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly cwd: string;
  readonly stdoutIsTerminal: boolean;
  readonly stderrIsTerminal: boolean;
  /** Columns of the terminal; undefined where standard output is none, or does not tell. */
  readonly columns: number | undefined;
  /** Data. */
  readonly out: (text: string) => void;
  /** Messages. */
  readonly err: (text: string) => void;
}

export const EXIT = { open: 0, closed: 1, failed: 2 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

export function processIo(): Io {
  const stdout = terminalAt(STDOUT, () => process.stdout);
  const stderr = terminalAt(STDERR, () => process.stderr);
  return {
    env: process.env,
    cwd: process.cwd(),
    stdoutIsTerminal: stdout !== undefined,
    stderrIsTerminal: stderr !== undefined,
    columns: stdout?.columns || undefined,
    out: writer(STDOUT, stdout),
    err: writer(STDERR, stderr),
  };
}

const STDOUT = 1;
const STDERR = 2;
const RETRY_MS = 5;

/** The stream of a terminal. Node's streams take long to load, and what is no terminal does without: a file, a pipe, the null device. */
function terminalAt(descriptor: number, stream: () => NodeJS.WriteStream): NodeJS.WriteStream | undefined {
  try {
    const device = fstatSync(descriptor);
    const nowhere = statSync('/dev/null', { throwIfNoEntry: false });
    if (!device.isCharacterDevice() || device.rdev === nowhere?.rdev) return undefined;
  } catch {
    return undefined;
  }
  const opened = stream();
  return opened.isTTY === true ? opened : undefined;
}

/** Writes until the reader goes away: a closed pipe ends the writing quietly, any other failure is told. */
function writer(descriptor: number, terminal: NodeJS.WriteStream | undefined): (text: string) => void {
  let closed = false;
  const failed = (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw fileError(error, descriptor === STDOUT ? 'standard output' : 'standard error');
    closed = true;
  };
  terminal?.on('error', failed);
  return (text) => {
    if (closed || text === '') return;
    if (terminal) terminal.write(text);
    else {
      try {
        writeAll(descriptor, Buffer.from(text));
      } catch (error) {
        failed(error as NodeJS.ErrnoException);
      }
    }
  };
}

/** A pipe that is full is tried again. */
function writeAll(descriptor: number, bytes: Buffer): void {
  for (let from = 0; from < bytes.length; ) {
    try {
      from += writeSync(descriptor, bytes, from);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, RETRY_MS);
    }
  }
}
