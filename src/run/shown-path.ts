import { basename, isAbsolute, relative, sep } from 'node:path';
import { printable } from '../render/terminal/printable.ts';

/** A path as people see it, on one line and safe to print: as given, never absolute. An absolute one is shown from `cwd`, or by its name where it lies elsewhere. */
export function shownPath(path: string, cwd: string): string {
  if (!isAbsolute(path)) return slashes(path.replace(/^\.[/\\]/, ''));
  const fromHere = relative(cwd, path);
  return fromHere === '' || fromHere.startsWith('..') || isAbsolute(fromHere)
    ? printable(basename(path))
    : slashes(fromHere);
}

function slashes(path: string): string {
  return printable(sep === '\\' ? path.replaceAll('\\', '/') : path);
}
