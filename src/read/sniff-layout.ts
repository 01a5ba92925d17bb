import { collapseSpaces } from './aligned-spaces.ts';
import type { DecimalChar } from './cell-number.ts';
import { type HeadRecord, headLines, headRecords, isBlank } from './head-records.ts';
import {
  badDialect,
  blankFile,
  delimiterAbsent,
  MOST_COLUMNS,
  noHeader,
  singleColumn,
  tooManyColumns,
  wrongDecimal,
} from './layout-errors.ts';
import { isSpaced, type RowDialect } from './papaparse-rows.ts';
import type { DialectOverride } from './read-options.ts';
import { contradictsDecimal, sniffDecimal } from './sniff-decimal.ts';
import { countDelimiters, DELIMITERS, sniffDelimiter } from './sniff-delimiter.ts';
import { type HeaderPlace, placeHeader } from './sniff-header.ts';
import { trimCell } from './trim-cell.ts';

export interface Layout {
  readonly delimiter: string;
  /** What the rows are split by: aligned spaces have been rewritten as tabs. */
  readonly rows: RowDialect;
  readonly aligned: boolean;
  readonly decimalChar: DecimalChar;
  /** Empty where no line is a comment. */
  readonly commentPrefix: string;
  readonly commentSeen: boolean;
  readonly skipRows: number;
  readonly headerRowCount: number;
  readonly names: HeadRecord | undefined;
  readonly units: HeadRecord | undefined;
  /** Behind the header: byte offset in the first block (aligned spaces rewritten), and 1-based line. */
  readonly dataOffset: number;
  readonly dataLine: number;
  readonly sample: readonly HeadRecord[];
}

/** Lines in which the header is looked for first, and at most. */
const FEW_LINES = 48;
const FEW_BYTES = 65536;
const MOST_LINES = 4000;
const SAMPLE_ROWS = 24;

function givenDelimiter(override: DialectOverride, quoteChar: string, name: string): string | undefined {
  const given = override.delimiter;
  if (given === undefined) return undefined;
  const delimiter = given.length > 1 ? given.trim() : given;
  const code = delimiter.charCodeAt(0);
  if (delimiter.length !== 1 || code > 126 || code === 10 || code === 13 || delimiter === quoteChar) {
    throw badDialect(name, 'delimiter', given, 'a single character such as ",", ";" or a tab');
  }
  return delimiter;
}

function checkOverride(override: DialectOverride, name: string): void {
  const { quoteChar, decimalChar, skipRows, headerRowCount } = override;
  if (quoteChar && (quoteChar.length !== 1 || quoteChar.charCodeAt(0) > 126 || quoteChar < ' ')) {
    throw badDialect(name, 'quoteChar', quoteChar, 'a single character');
  }
  if (decimalChar !== undefined && decimalChar !== '.' && decimalChar !== ',') {
    throw badDialect(name, 'decimalChar', decimalChar, '"." or ","');
  }
  for (const [key, value] of [['skipRows', skipRows] as const, ['headerRowCount', headerRowCount] as const]) {
    if (value !== undefined && !(Number.isInteger(value) && value >= 0)) {
      throw badDialect(name, key, value, 'a whole number, 0 or more');
    }
  }
}

/** Cells of a row beyond which no look at it is worth its time; spreadsheets pad rows to fewer. */
const MOST_CELLS_IN_A_ROW = 4 * MOST_COLUMNS;

/** Refuses rows of more cells than any log has before they are split up. */
function refuseEndlessRows(head: Buffer, newline: '\n' | '\r', override: DialectOverride, name: string): void {
  if (head.length < MOST_CELLS_IN_A_ROW) return;
  const candidates = override.delimiter === undefined ? DELIMITERS : [override.delimiter];
  let from = 0;
  for (let number = 1; number <= FEW_LINES && from < head.length; number++) {
    const found = head.indexOf(newline, from);
    const end = found < 0 ? head.length : found;
    if (end - from >= MOST_CELLS_IN_A_ROW) {
      const line = head.toString('latin1', from, end);
      for (const delimiter of candidates) {
        const cells = countDelimiters(line, delimiter, override.quoteChar ?? '"') + 1;
        if (cells > MOST_CELLS_IN_A_ROW) throw tooManyColumns(name, number, cells);
      }
    }
    from = end + 1;
  }
}

/** A delimiter that stands nowhere in the text, so that every line is one cell. */
function absentDelimiter(text: string): string | undefined {
  return [',', ';', '\t', '|'].find((delimiter) => !text.includes(delimiter));
}

interface Attempt {
  readonly delimiter: string | undefined;
  readonly text: string;
  readonly rows: Omit<RowDialect, 'spaced'>;
  readonly records: HeadRecord[];
  readonly place: HeaderPlace | undefined;
}

/** The file as lines of one cell each; undefined where that makes no log either. */
function attemptOneColumn(byteText: string, newline: '\n' | '\r', override: DialectOverride): Attempt | undefined {
  const delimiter = override.delimiter ?? absentDelimiter(byteText);
  if (delimiter?.length !== 1) return undefined;
  const rows = { delimiter, quoteChar: override.quoteChar ?? '"', newline };
  const prefix = override.commentPrefix ?? '#';
  const records = headRecords(byteText, rows, prefix, MOST_LINES);
  const place = placeHeader(records, prefix, override.skipRows, override.headerRowCount, 1);
  const isSingle = place && records.slice(Math.max(0, place.names)).every(({ cells }) => cells.length === 1);
  return isSingle ? { delimiter, text: byteText, rows, records, place } : undefined;
}

function attempt(
  byteText: string,
  newline: '\n' | '\r',
  override: DialectOverride,
  name: string,
  most: number,
): Attempt {
  const quoteChar = override.quoteChar ?? '"';
  const prefix = override.commentPrefix ?? '#';
  const lines = headLines(byteText, newline, most);
  const shown = lines.slice(override.skipRows ?? 0);
  const given = givenDelimiter(override, quoteChar, name);
  const absent = given !== undefined && shown.every((line) => countDelimiters(line, given, quoteChar) === 0);
  if (most === MOST_LINES) {
    if (lines.every((line) => trimCell(line) === '')) throw blankFile(name);
    if (shown.every((line) => trimCell(line) === '')) {
      throw badDialect(name, 'skipRows', override.skipRows, 'followed by a header row');
    }
    if (absent) throw delimiterAbsent(name, given, sniffDelimiter(shown, quoteChar));
  }
  const delimiter = given ?? sniffDelimiter(shown, quoteChar);
  const aligned = delimiter === ' ';
  const text = aligned ? collapseSpaces(byteText) : byteText;
  const rows = {
    delimiter: aligned ? '\t' : (delimiter ?? ','),
    quoteChar: aligned ? '' : quoteChar,
    newline,
  };
  const records = headRecords(text, rows, prefix, most);
  const place =
    delimiter === undefined || absent
      ? undefined
      : placeHeader(records, prefix, override.skipRows, override.headerRowCount);
  return { delimiter, text, rows, records, place };
}

/** Finds out from the file's start how it is written; what `override` gives is taken as given. */
export function sniffLayout(
  head: Buffer,
  newline: '\n' | '\r',
  override: DialectOverride,
  name: string,
  mayBeOneColumn: boolean,
): Layout {
  checkOverride(override, name);
  refuseEndlessRows(head, newline, override, name);
  const start = head.length <= FEW_BYTES ? head.length : head.lastIndexOf(newline, FEW_BYTES - 1) + 1;
  let found = attempt(head.toString('latin1', 0, start), newline, override, name, FEW_LINES);
  if (start < head.length && !(found.place && found.records.length >= found.place.next + SAMPLE_ROWS)) {
    found = attempt(head.toString('latin1'), newline, override, name, FEW_LINES);
  }
  if (!found.place) {
    const single = mayBeOneColumn ? attemptOneColumn(head.toString('latin1'), newline, override) : undefined;
    found = single ?? attempt(head.toString('latin1'), newline, override, name, MOST_LINES);
  }
  const { delimiter, place, rows, text } = found;
  if (delimiter === undefined) throw singleColumn(name, [...DELIMITERS, ' ']);
  if (!place) throw noHeader(name, found.records, override.skipRows);

  const last = found.records[place.next - 1];
  const dataLine = place.next === 0 ? 1 : (found.records[place.next]?.line ?? last.line + 1);
  const enough = found.records.length >= place.next + SAMPLE_ROWS;
  const records = enough
    ? found.records
    : headRecords(text, rows, override.commentPrefix ?? '#', dataLine + SAMPLE_ROWS);
  const names = place.names < 0 ? undefined : records[place.names];
  const prefix = override.commentPrefix ?? '#';
  const isComment = (record: HeadRecord) => prefix !== '' && record.text.startsWith(prefix);
  const commentSeen = records.some((record) => record !== names && isComment(record));
  const sample = records
    .slice(place.next, place.next + SAMPLE_ROWS)
    .filter((record) => !isBlank(record) && !isComment(record));
  const cells = sample.flatMap((record) => record.cells);
  if (override.decimalChar !== undefined && contradictsDecimal(cells, override.decimalChar)) {
    throw wrongDecimal(name, dataLine, override.decimalChar);
  }
  const firstName = names?.cells[0] ?? '';
  const commentsLikely = commentSeen || !firstName.startsWith(prefix);
  const units = place.units < 0 ? undefined : records[place.units];
  return {
    delimiter,
    rows: { ...rows, spaced: names !== undefined && isSpaced(names.text, rows.delimiter, rows.quoteChar) },
    aligned: delimiter === ' ',
    decimalChar: override.decimalChar ?? sniffDecimal(cells, delimiter),
    commentPrefix: override.commentPrefix !== undefined || commentsLikely ? prefix : '',
    commentSeen,
    skipRows: (names ?? records[place.next]).line - 1,
    headerRowCount: override.headerRowCount ?? (units ? 2 : 1),
    names,
    units,
    dataOffset: place.next === 0 ? 0 : records[place.next - 1].end,
    dataLine,
    sample,
  };
}
