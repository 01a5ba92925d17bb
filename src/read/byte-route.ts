import { POWERS_OF_TEN } from './cell-number.ts';
import {
  endRow,
  ensureRow,
  isRepeatedHeader,
  PLAIN_NUMBERS,
  putCell,
  SKIPPED,
  type TableBuilder,
} from './table-builder.ts';

export interface ByteDialect {
  readonly delimiter: number;
  readonly newline: number;
  /** 0 where a decimal character can only stand in quoted cells. */
  readonly decimal: number;
}

/** First byte of a row's text, by which a repeated header is suspected. */
function firstByte(cells: readonly string[] | undefined, delimiter: number): number {
  if (!cells || cells.length === 0) return -1;
  return cells[0] === '' ? delimiter : cells[0].charCodeAt(0);
}

function startsWith(bytes: Buffer, at: number, prefix: string): boolean {
  for (let k = 0; k < prefix.length; k++) if (bytes[at + k] !== prefix.charCodeAt(k)) return false;
  return true;
}

/** What the row reader needs of the table at every cell. */
interface RowState {
  readonly builder: TableBuilder;
  readonly bytes: Buffer;
  readonly dialect: ByteDialect;
  readonly values: Float64Array[];
  readonly modes: Uint8Array;
}

/**
 * Reads whole lines without quotes straight from their bytes. Digits gather in a double; one division by an exact power
 * of ten gives the value `Number` would give (both operands exact, one correctly rounded operation), as long as the
 * digits stay below 2^53 and the decimals at 22. Every other cell goes through `putCell` as text.
 */
function readRow(state: RowState, from: number): number {
  const { builder, bytes, values, modes } = state;
  const { delimiter, newline, decimal } = state.dialect;
  const { row, fieldCount } = builder;
  const numericMissing = builder.rules.missing.numbers;
  const checkMissing = numericMissing.size > 0;
  let i = from;
  let field = 0;
  let filled = false;
  let filledBeyond = false;
  let c = 0;
  do {
    const start = i;
    c = bytes[i];
    if (field < fieldCount && modes[field] === PLAIN_NUMBERS) {
      while (c <= 32 && c !== delimiter && c !== newline) c = bytes[++i];
      let negative = false;
      if (c === 45) {
        negative = true;
        c = bytes[++i];
      } else if (c === 43) c = bytes[++i];
      let mantissa = 0;
      let decimals = 0;
      const firstDigit = i;
      while (c >= 48 && c <= 57) {
        mantissa = mantissa * 10 + (c - 48);
        c = bytes[++i];
      }
      let digits = i - firstDigit;
      if (c === decimal) {
        const firstDecimal = i + 1;
        c = bytes[++i];
        while (c >= 48 && c <= 57) {
          mantissa = mantissa * 10 + (c - 48);
          c = bytes[++i];
        }
        decimals = i - firstDecimal;
        digits += decimals;
      }
      while (c <= 32 && c !== delimiter && c !== newline) c = bytes[++i];
      if (digits > 0 && (c === delimiter || c === newline) && mantissa <= 9007199254740991 && decimals <= 22) {
        let value = decimals > 0 ? mantissa / POWERS_OF_TEN[decimals] : mantissa;
        if (negative) value = -value;
        if (checkMissing && numericMissing.has(value)) putCell(builder, field, bytes.toString('latin1', start, i));
        else values[field][row] = value;
        filled = true;
      } else {
        while (c !== delimiter && c !== newline) c = bytes[++i];
        if (putCell(builder, field, bytes.toString('latin1', start, i))) filled = true;
      }
    } else {
      while (c !== delimiter && c !== newline) c = bytes[++i];
      if (field < fieldCount && modes[field] !== SKIPPED) {
        if (putCell(builder, field, i === start ? '' : bytes.toString('latin1', start, i))) filled = true;
      } else {
        for (let k = start; k < i; k++) {
          if (bytes[k] > 32) {
            filled = true;
            if (field >= fieldCount) filledBeyond = true;
            break;
          }
        }
      }
    }
    i++;
    field++;
  } while (c !== newline);
  endRow(builder, field, filled, filledBeyond);
  return i;
}

/** Reads whole lines without quotes; leaves out comments and repeated headers. */
export function readPlainLines(builder: TableBuilder, bytes: Buffer, dialect: ByteDialect): void {
  const { delimiter, newline } = dialect;
  const { values, modes, commentPrefix } = builder;
  const state: RowState = { builder, bytes, dialect, values, modes };
  const commentByte = commentPrefix === '' ? -1 : commentPrefix.charCodeAt(0);
  const headerByte = firstByte(builder.headerCells, delimiter);
  const unitsByte = firstByte(builder.unitsCells, delimiter);
  const end = bytes.length;
  let i = 0;
  while (i < end) {
    let first = i;
    while (bytes[first] <= 32 && bytes[first] !== delimiter && bytes[first] !== newline) first++;
    const opening = bytes[first];
    if (opening === headerByte || opening === unitsByte || bytes[i] === commentByte) {
      const lineEnd = bytes.indexOf(newline, i);
      const cells = bytes.toString('latin1', i, lineEnd).split(String.fromCharCode(delimiter));
      const comment = bytes[i] === commentByte && startsWith(bytes, i, commentPrefix);
      if (comment) builder.commentSeen = true;
      if (isRepeatedHeader(builder, cells) || comment) {
        i = lineEnd + 1;
        builder.line++;
        continue;
      }
    }
    ensureRow(builder);
    i = readRow(state, i);
    builder.line++;
  }
}
