import { type CellRules, type ColumnBuilder, growColumn, storeCell } from './column-builder.ts';
import { tooManyCells } from './layout-errors.ts';
import { refuseOtherHeader } from './second-header.ts';
import type { Layout } from './sniff-layout.ts';
import { trimCell } from './trim-cell.ts';

/** How the byte route treats a field: not kept, plain numbers, anything else. */
export const SKIPPED = 0;
export const PLAIN_NUMBERS = 1;
const SLOW = 2;

/** Rows of an odd shape: how many, and the line of the first. */
export interface OddRows {
  count: number;
  firstLine: number;
}

export interface TableBuilder {
  readonly fileName: string;
  readonly rules: CellRules;
  /** Fields the header names. */
  readonly fieldCount: number;
  /** By field; undefined where the column is not kept. */
  readonly columns: (ColumnBuilder | undefined)[];
  /** The fields that are kept, in order, and their names. */
  readonly kept: number[];
  readonly keptNames: Set<string>;
  /** By field: the values of the kept columns, as the byte route writes them. */
  readonly values: Float64Array[];
  /** By field: SKIPPED, PLAIN_NUMBERS or SLOW. */
  readonly modes: Uint8Array;
  /** The header's cells, and those of its units, as trimmed byte texts without blank ones at the end. */
  readonly headerCells: readonly string[];
  readonly unitsCells: readonly string[] | undefined;
  /** Starts lines that are skipped; empty where there are none. */
  readonly commentPrefix: string;
  capacity: number;
  /** Bytes that the whole file should have, where they are known. */
  readonly bytesExpected: () => number | undefined;
  /** Bytes of the blocks read so far, and the rows in them. */
  bytesDone: number;
  rowsDone: number;
  row: number;
  /** 1-based line of the file that is read next. */
  line: number;
  firstDataLine: number;
  /** Cells of the current row that hold text in a column of numbers or times. */
  strayTexts: number;
  commentSeen: boolean;
  /** Whether rows of blank cells count, as the place of a row is its time. */
  readonly timeByRow: boolean;
  /** Lines between the rows that are wholly blank, so far and before the latest row. */
  blankLines: number;
  blankLinesBetween: number;
  readonly short: OddRows;
  readonly long: OddRows;
  readonly repeatedHeader: OddRows;
}

function withoutBlankEnd(cells: readonly string[]): readonly string[] {
  let last = cells.length;
  while (last > 0 && cells[last - 1] === '') last--;
  return cells.slice(0, last);
}

/** More cells than this (2 GiB of numbers) are no log that anybody reads whole. */
const MOST_CELLS = 2 ** 28;
/** Cells that room is made for before a row is seen. */
const FIRST_CELLS = 2 ** 22;

function rowsExpected(layout: Layout, bytes: number, columns: number): number {
  const last = layout.sample[layout.sample.length - 1];
  const perRow = last ? (last.end - layout.dataOffset) / layout.sample.length : bytes;
  const expected = Math.ceil((bytes / Math.max(2, perRow)) * 1.1) + 16;
  return Math.min(expected, Math.max(64, Math.floor(FIRST_CELLS / columns)));
}

/** An empty table with room for what a first block of `bytes` should hold; its columns are to be added. */
export function startTable(
  layout: Layout,
  rules: CellRules,
  names: readonly string[],
  bytes: number,
  fileName: string,
  timeByRow: boolean,
  bytesExpected: () => number | undefined,
): TableBuilder {
  const none = () => ({ count: 0, firstLine: 0 });
  return {
    fileName,
    rules,
    fieldCount: names.length,
    columns: [],
    kept: [],
    keptNames: new Set(),
    values: [],
    modes: new Uint8Array(names.length),
    headerCells: layout.names ? withoutBlankEnd(layout.names.cells) : [],
    unitsCells: layout.units && withoutBlankEnd(layout.units.cells),
    commentPrefix: layout.commentPrefix,
    capacity: rowsExpected(layout, bytes, names.length),
    bytesExpected,
    bytesDone: 0,
    rowsDone: 0,
    row: 0,
    line: layout.dataLine,
    firstDataLine: layout.dataLine,
    strayTexts: 0,
    commentSeen: layout.commentSeen,
    timeByRow,
    blankLines: 0,
    blankLinesBetween: 0,
    short: none(),
    long: none(),
    repeatedHeader: none(),
  };
}

function count(odd: OddRows, line: number): void {
  if (odd.count++ === 0) odd.firstLine = line;
}

/** Adds the next field's column, or none where it is not kept. */
export function addColumn(builder: TableBuilder, column: ColumnBuilder | undefined): void {
  if (column) {
    builder.kept.push(builder.columns.length);
    builder.keptNames.add(column.name);
  }
  builder.columns.push(column);
  builder.values.push(column?.values ?? new Float64Array(0));
  refreshMode(builder, builder.columns.length - 1);
}

function refreshMode(builder: TableBuilder, field: number): void {
  const column = builder.columns[field];
  builder.modes[field] = !column
    ? SKIPPED
    : column.kind === 'number' && column.suffix === undefined
      ? PLAIN_NUMBERS
      : SLOW;
}

/** Rows of the whole file by its size and the rows so far; room for all at once saves copying and memory. 0 where unknown. */
function rowsInAll({ bytesExpected, bytesDone, rowsDone }: TableBuilder): number {
  if (bytesDone === 0) return 0;
  return Math.ceil(((bytesExpected() ?? 0) / bytesDone) * rowsDone * 1.03);
}

export function ensureRow(builder: TableBuilder): void {
  if (builder.row < builder.capacity) return;
  const kept = builder.kept.length;
  if (builder.row * kept >= MOST_CELLS) throw tooManyCells(builder.fileName, builder.line, kept);
  builder.capacity = Math.max(64, builder.capacity * 2, Math.min(rowsInAll(builder), Math.ceil(MOST_CELLS / kept)));
  for (const [field, column] of builder.columns.entries()) {
    if (!column) continue;
    growColumn(column, builder.capacity);
    builder.values[field] = column.values;
  }
}

/** Stores a cell of the current row; true where it holds something. */
export function putCell(builder: TableBuilder, field: number, cell: string): boolean {
  const column = builder.columns[field];
  if (!column) return trimCell(cell) !== '';
  const kindBefore = column.kind;
  const outcome = storeCell(column, builder.row, cell, builder.rules);
  if (column.kind !== kindBefore) refreshMode(builder, field);
  if (outcome === 'stray text') builder.strayTexts++;
  return outcome !== 'blank';
}

/** Ends the current row of `cells` cells. A row in which every cell is blank counts only where its place is its time. */
export function endRow(builder: TableBuilder, cells: number, filled: boolean, filledBeyond: boolean): void {
  if (!filled && cells === 1) builder.blankLines++;
  if (!filled && !(builder.timeByRow && cells > 1)) return;
  builder.blankLinesBetween = builder.blankLines;
  if (cells < builder.fieldCount) {
    const { kept, values } = builder;
    for (let k = kept.length - 1; k >= 0 && kept[k] >= cells; k--) values[kept[k]][builder.row] = Number.NaN;
    count(builder.short, builder.line);
  } else if (filledBeyond) count(builder.long, builder.line);
  if (builder.strayTexts > 1) refuseOtherHeader(builder, cells);
  builder.strayTexts = 0;
  if (builder.row === 0) builder.firstDataLine = builder.line;
  builder.row++;
}

function sameCells(cells: readonly string[], pattern: readonly string[]): boolean {
  let last = cells.length;
  while (last > 0 && trimCell(cells[last - 1]) === '') last--;
  if (last !== pattern.length) return false;
  for (let i = 0; i < last; i++) if (trimCell(cells[i]) !== pattern[i]) return false;
  return true;
}

/** Whether a row repeats the header (the logger was restarted) or its units; such a row is counted and left out. */
export function isRepeatedHeader(builder: TableBuilder, cells: readonly string[]): boolean {
  if (builder.headerCells.length > 0 && sameCells(cells, builder.headerCells)) {
    count(builder.repeatedHeader, builder.line);
    return true;
  }
  return builder.unitsCells !== undefined && builder.unitsCells.length > 0 && sameCells(cells, builder.unitsCells);
}
