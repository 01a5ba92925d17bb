import { fstatSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

const STDIN = 0;

/** One text for every spelling of a file: its place on the disk, whatever links lead there; of a file that is not there yet, where it would be. */
export function fileIdentity(path: string): string {
  const stats = statSync(path, { throwIfNoEntry: false, bigint: true });
  if (stats) return `${stats.dev}:${stats.ino}`;
  const folder = dirname(path);
  if (folder === path) return path;
  try {
    return join(realpathSync(folder), basename(path));
  } catch {
    return join(fileIdentity(folder), basename(path));
  }
}

/** The same for standard input, where it comes from a file. */
export function stdinIdentity(): string | undefined {
  try {
    const stats = fstatSync(STDIN, { bigint: true });
    return stats.isFile() ? `${stats.dev}:${stats.ino}` : undefined;
  } catch {
    return undefined;
  }
}
