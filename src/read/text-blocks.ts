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

const PIECE_BYTES = 256 * 1024;

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

/** Chunks in pieces small enough that a copy of one costs no memory worth naming. */
function* inPieces(chunks: Iterable<Uint8Array>): Generator<Uint8Array> {
  for (const chunk of chunks) {
    for (let at = 0; at < chunk.length; at += PIECE_BYTES) yield chunk.subarray(at, at + PIECE_BYTES);
  }
}

/**
 * Cuts ASCII-compatible chunks into blocks of whole lines. All blocks lie in one piece of memory, each until the next is asked for:
 * what is thrown away as fast as a file is read would pile up before it is collected.
 */
export function* textBlocks(chunks: Iterable<Uint8Array>, sizes: BlockSizes, name: string): Generator<TextBlock> {
  let text = Buffer.allocUnsafe(sizes.head + PIECE_BYTES);
  let size = 0;
  let wanted = sizes.head;
  let newline: 10 | 13 | undefined;
  for (const piece of inPieces(chunks)) {
    if (size + piece.length > text.length) {
      const larger = Buffer.allocUnsafe(2 * (size + piece.length));
      text.copy(larger, 0, 0, size);
      text = larger;
    }
    text.set(piece, size);
    size += piece.length;
    let from = 0;
    while (size - from >= wanted) {
      const filled = text.subarray(0, size);
      newline ??= newlineOf(filled);
      let cut = -1;
      if (newline !== undefined) {
        cut = filled.lastIndexOf(newline, from + wanted - 1);
        if (cut < from) cut = filled.indexOf(newline, from + wanted);
      }
      if (cut < 0) {
        if (size - from > LONGEST_LINE_BYTES) throw lineTooLong(name);
        wanted = (size - from) * 2;
      } else {
        const bytes = withoutMarks(filled.subarray(from, cut + 1));
        yield { bytes, newline: newline ?? LF, unterminated: false };
        from = cut + 1;
        wanted = sizes.block;
      }
    }
    if (from > 0) {
      text.copyWithin(0, from, size);
      size -= from;
    }
  }
  if (size > LONGEST_LINE_BYTES) throw lineTooLong(name);
  const rest = text.subarray(0, size);
  if (size > 0) yield lastBlock(rest, newline ?? newlineOf(rest) ?? LF);
}

function lineTooLong(name: string): UserError {
  return new UserError(
    'a line is longer than 16 MiB.',
    name,
    'A log has one line a sample: check that this file is a CSV log, and that its line ends were not lost.',
  );
}
