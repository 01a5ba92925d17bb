import { isSpaced, papaparseRows, type RowDialect, withoutSpaceBeforeQuotes } from './papaparse-rows.ts';
import { trimCell } from './trim-cell.ts';

/** A row of the file's start, as trimmed byte texts. */
export interface HeadRecord {
  readonly cells: readonly string[];
  /** The line as it stands, for comment prefixes. */
  readonly text: string;
  /** 1-based line in the file. */
  readonly line: number;
  /** Byte offset behind its line end. */
  readonly end: number;
}

/** Lines that a quoted cell of the header may span. */
const MOST_LINES_IN_A_RECORD = 20;

export function isBlank(record: HeadRecord): boolean {
  return record.cells.every((cell) => cell === '');
}

export function startsWithPrefix(line: string, commentPrefix: string): boolean {
  return commentPrefix !== '' && line.startsWith(commentPrefix);
}

/** Physical lines, without line ends, at most `most`. */
export function headLines(text: string, newline: '\n' | '\r', most: number): string[] {
  const lines: string[] = [];
  let start = 0;
  while (start < text.length && lines.length < most) {
    const end = text.indexOf(newline, start);
    lines.push(text.slice(start, end < 0 ? text.length : end));
    if (end < 0) break;
    start = end + 1;
  }
  return lines;
}

function quotedCells(
  lines: readonly string[],
  at: number,
  dialect: Omit<RowDialect, 'spaced'>,
  mostLines: number,
): { cells: string[]; lines: number } {
  const { delimiter, quoteChar } = dialect;
  const lineDialect = { ...dialect, spaced: isSpaced(lines[at], delimiter, quoteChar) };
  let text = '';
  for (let taken = 1; taken <= mostLines && at + taken <= lines.length; taken++) {
    text += lines[at + taken - 1] + dialect.newline;
    const { rows, fault } = papaparseRows(withoutSpaceBeforeQuotes(text, lineDialect), lineDialect, true);
    if (fault) break;
    if (rows.length > 0) return { cells: rows[0], lines: taken };
  }
  return { cells: lines[at].split(dialect.delimiter), lines: 1 };
}

/** The first `most` lines as records. A quote that does not close is taken literally here: it may stand in free text. */
export function headRecords(
  text: string,
  dialect: Omit<RowDialect, 'spaced'>,
  commentPrefix: string,
  most: number,
): HeadRecord[] {
  const lines = headLines(text, dialect.newline, most);
  const records: HeadRecord[] = [];
  let offset = 0;
  for (let at = 0; at < lines.length; ) {
    const quoted = dialect.quoteChar !== '' && lines[at].includes(dialect.quoteChar);
    const { cells, lines: taken } = quoted
      ? quotedCells(lines, at, dialect, startsWithPrefix(lines[at], commentPrefix) ? 1 : MOST_LINES_IN_A_RECORD)
      : { cells: lines[at].split(dialect.delimiter), lines: 1 };
    for (let i = 0; i < taken; i++) offset += lines[at + i].length + 1;
    records.push({ cells: cells.map(trimCell), text: lines[at], line: at + 1, end: offset });
    at += taken;
  }
  return records;
}
