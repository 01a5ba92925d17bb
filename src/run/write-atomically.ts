import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { fileError } from './file-error.ts';

/** Writes beside the target and then moves into place, so that nobody ever reads half a file. */
export function writeAtomically(path: string, text: string, shownPath: string): void {
  const draft = `${path}.${process.pid}.tmp`;
  try {
    writeFileSync(draft, text);
    renameSync(draft, path);
  } catch (error) {
    rmSync(draft, { force: true });
    throw fileError(error, shownPath);
  }
}
