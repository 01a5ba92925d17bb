import { UserError } from '../kernel/user-error.ts';
import { bytesOfFile } from './file-chunks.ts';
import { fileError } from './file-error.ts';

const UTF_16 = { '255,254': 'utf-16le', '254,255': 'utf-16be' } as const;
const REPLACEMENT = '\ufffd';

/**
 * The text of a mapping or build sheet: UTF-8, or UTF-16 where its mark says so. Anything else is refused: it would turn names with accents
 * into names that no log has.
 */
export function sheetText(path: string, shownPath: string): string {
  const bytes = read(path, shownPath);
  const mark = `${bytes[0]},${bytes[1]}`;
  if (mark in UTF_16) return new TextDecoder(UTF_16[mark as keyof typeof UTF_16]).decode(bytes);
  const text = bytes.toString('utf8');
  if (!text.includes(REPLACEMENT) || bytes.includes(REPLACEMENT)) return text;
  throw new UserError('this is not UTF-8 text.', shownPath, 'Save it as UTF-8 in the editor.');
}

function read(path: string, shownPath: string): Buffer {
  try {
    return bytesOfFile(path);
  } catch (error) {
    throw fileError(error, shownPath);
  }
}
