import { realpathSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { fileError } from './file-error.ts';

/** Where a path leads, through links; the path itself where nothing is there yet. */
function targetOf(path: string): { readonly path: string; readonly isRegular: boolean } {
  const found = statSync(path, { throwIfNoEntry: false });
  return found ? { path: realpathSync(path), isRegular: found.isFile() } : { path, isRegular: true };
}

/** Writes beside the target and then moves into place, so that nobody ever reads half a file. A pipe or a device is written into: there is nothing to replace. */
export function writeAtomically(path: string, text: string, shownPath: string): void {
  let draft: string | undefined;
  try {
    const target = targetOf(path);
    if (!target.isRegular) {
      writeFileSync(path, text);
      return;
    }
    draft = `${target.path}.${process.pid}.tmp`;
    writeFileSync(draft, text);
    renameSync(draft, target.path);
  } catch (error) {
    if (draft !== undefined) rmSync(draft, { force: true });
    throw fileError(error, shownPath);
  }
}
