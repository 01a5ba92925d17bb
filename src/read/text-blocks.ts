import { UserError } from '../kernel/user-error.ts';

export interface BlockSizes {
  /** The first block, in which the dialect and the header are looked for. */
  readonly head: number;
  readonly block: number;
}

/** Whole lines of text, each ending in the newline byte. */
export interface TextBlock {
  readonly bytes: Buffer;
  readonly newline: 10 | 13;
  /** The last line has no line end in the file; one was put there. */
  readonly unterminated: boolean;
}

/** A line longer than this is no log. */
const LONGEST_LINE_BYTES = 16 * 1024 * 1024;

const LF = 10;
const CR = 13;
const BYTE_ORDER_MARK = Buffer.from([0xef, 0xbb, 0xbf]);

/**
 * Which byte ends a line: LF (also for CR LF, where the CR counts as space at the end of the line) unless the text has
 * lone CRs instead. Undefined where the text is too short to tell.
 */
function newlineOf(text: Buffer): 10 | 13 | undefined {
  const end = Math.min(text.length, 65536);
  let lf = 0;
  let cr = 0;
  for (let i = text.indexOf(LF); i >= 0 && i < end; i = text.indexOf(LF, i + 1)) lf++;
  for (let i = text.indexOf(CR); i >= 0 && i < end - 1; i = text.indexOf(CR, i + 1)) cr++;
  if (lf === 0 && cr === 0) return undefined;
  return cr > 2 * lf ? CR : LF;
}

/** Logs put together from several files carry byte order marks in the middle. */
function withoutMarks(bytes: Buffer): Buffer {
  if (bytes.indexOf(BYTE_ORDER_MARK) < 0) return bytes;
  return Buffer.from(bytes.toString('latin1').replaceAll('\xef\xbb\xbf', ''), 'latin1');
}

function lastBlock(text: Buffer, newline: 10 | 13): TextBlock {
  const unterminated = text[text.length - 1] !== newline;
  const bytes = withoutMarks(unterminated ? Buffer.concat([text, Buffer.of(newline)]) : text);
  return { bytes, newline, unterminated };
}

/** Cuts ASCII-compatible chunks into blocks of whole lines. Nothing of a chunk is kept past the next one except a copy. */
export function* textBlocks(chunks: Iterable<Uint8Array>, sizes: BlockSizes, name: string): Generator<TextBlock> {
  let parts: Buffer[] = [];
  let size = 0;
  let wanted = sizes.head;
  let newline: 10 | 13 | undefined;
  for (const chunk of chunks) {
    const part = Buffer.from(chunk.buffer, chunk.byteOffset, chunk.length);
    size += part.length;
    if (size < wanted) {
      parts.push(Buffer.from(part));
      continue;
    }
    parts.push(part);
    const text = parts.length === 1 ? part : Buffer.concat(parts, size);
    let from = 0;
    while (text.length - from >= wanted) {
      newline ??= newlineOf(text);
      let cut = -1;
      if (newline !== undefined) {
        cut = text.lastIndexOf(newline, from + wanted - 1);
        if (cut < from) cut = text.indexOf(newline, from + wanted);
      }
      if (cut < 0) {
        if (text.length - from > LONGEST_LINE_BYTES) throw lineTooLong(name);
        wanted = (text.length - from) * 2;
      } else {
        const bytes = withoutMarks(text.subarray(from, cut + 1));
        yield { bytes, newline: newline ?? LF, unterminated: false };
        from = cut + 1;
        wanted = sizes.block;
      }
    }
    parts = [Buffer.from(text.subarray(from))];
    size = parts[0].length;
  }
  if (size > LONGEST_LINE_BYTES) throw lineTooLong(name);
  const text = parts.length === 1 ? parts[0] : Buffer.concat(parts, size);
  if (size > 0) yield lastBlock(text, newline ?? newlineOf(text) ?? LF);
}

function lineTooLong(name: string): UserError {
  return new UserError(
    'a line is longer than 16 MiB.',
    name,
    'A log has one line a sample: check that this file is a CSV log, and that its line ends were not lost.',
  );
}
