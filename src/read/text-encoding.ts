import { UserError } from '../kernel/user-error.ts';
import { refuseBinary } from './binary-content.ts';
import type { CellEncoding } from './cell-decoder.ts';

type Decoder = InstanceType<typeof TextDecoder>;

export interface TextEncoding {
  /** As the dialect calls it, in the Encoding Standard's names. */
  readonly label: string;
  /** How to read cells once the bytes are ASCII-compatible. */
  readonly cells: CellEncoding;
  /** Set where the bytes must first be turned into UTF-8. */
  readonly transcoder: Decoder | undefined;
  readonly bomLength: number;
}

function utf16(label: 'utf-16le' | 'utf-16be', bomLength: number): TextEncoding {
  return { label, cells: 'utf-8', transcoder: new TextDecoder(label), bomLength };
}

/** UTF-16 without a mark: Latin text has a NUL in every second byte. */
function utf16WithoutMark(head: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  const pairs = Math.min(head.length, 4096) >> 1;
  const nuls = [0, 0];
  for (let i = 0; i < pairs * 2; i++) if (head[i] === 0) nuls[i & 1]++;
  if (pairs < 2) return undefined;
  if (nuls[1] > pairs * 0.7 && nuls[0] < pairs * 0.05) return 'utf-16le';
  if (nuls[0] > pairs * 0.7 && nuls[1] < pairs * 0.05) return 'utf-16be';
  return undefined;
}

function givenEncoding(given: string, name: string): TextEncoding {
  let transcoder: Decoder;
  try {
    transcoder = new TextDecoder(given);
  } catch {
    throw new UserError(
      `the dialect's encoding "${given}" is not known.`,
      name,
      'Use a name such as "utf-8", "windows-1252" or "utf-16le", or leave it out.',
    );
  }
  const label = transcoder.encoding;
  if (label === 'utf-8' || label === 'windows-1252')
    return { label, cells: label, transcoder: undefined, bomLength: 0 };
  return { label, cells: 'utf-8', transcoder, bomLength: 0 };
}

/** Tells the encoding from the start of the file; a byte order mark stands above what was given. Refuses binary content. */
export function detectEncoding(head: Uint8Array, given: string | undefined, name: string): TextEncoding {
  if (head[0] === 0xff && head[1] === 0xfe) return utf16('utf-16le', 2);
  if (head[0] === 0xfe && head[1] === 0xff) return utf16('utf-16be', 2);
  const bomLength = head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf ? 3 : 0;
  if (given !== undefined && bomLength === 0) {
    const encoding = givenEncoding(given, name);
    if (!encoding.transcoder) refuseBinary(head, name);
    return encoding;
  }
  const wide = utf16WithoutMark(head);
  if (wide) return utf16(wide, 0);
  refuseBinary(head, name);
  return { label: 'utf-8', cells: bomLength > 0 ? 'utf-8' : 'utf-8 or windows-1252', transcoder: undefined, bomLength };
}
