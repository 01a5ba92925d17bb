import { UserError } from '../kernel/user-error.ts';

const SAYINGS: Readonly<Record<string, readonly [what: string, mend: string]>> = {
  ENOENT: ['there is no such file or folder.', 'Check the path.'],
  EACCES: ['no permission to open it.', 'Change its permissions or copy it to where you may read it.'],
  EPERM: ['no permission to open it.', 'Change its permissions or copy it to where you may read it.'],
  EISDIR: ['this is a folder, and a file is needed.', 'Name the file inside it.'],
  ENOTDIR: ['a part of the path is a file, not a folder.', 'Check the path.'],
  EFTYPE: [
    'this is a pipe, a socket or a device, and a regular file is needed.',
    'Copy its content into a file, or pipe a log in and name it "-".',
  ],
  EMFILE: ['too many files are open.', 'Close other programs and try again.'],
  ENOSPC: ['the disk is full.', 'Make room and try again.'],
  EROFS: ['the disk is read-only.', 'Choose another place with --out.'],
  ELOOP: ['the link points to itself.', 'Check the link.'],
  ENAMETOOLONG: ['the path is too long.', 'Use a shorter one.'],
};

/** A refusal of the file system in words; anything else comes back as it was. */
export function fileError(error: unknown, shownPath: string): unknown {
  const { code } = error as NodeJS.ErrnoException;
  const saying = code === undefined ? undefined : SAYINGS[code];
  if (saying) return new UserError(saying[0], shownPath, saying[1]);
  const fromSystem = error instanceof Error && typeof code === 'string' && 'syscall' in error;
  return fromSystem ? new UserError(`the system refused it (${code}).`, shownPath) : error;
}
