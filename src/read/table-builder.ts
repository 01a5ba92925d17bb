import { type CellRules, type ColumnBuilder, growColumn, storeCell } from './column-builder.ts';
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
  row: number;
  /** 1-based line of the file that is read next. */
  line: number;
  firstDataLine: number;
  /** Cells of the current row that hold text in a column of numbers or times. */
  strayTexts: number;
  commentSeen: boolean;
  readonly short: OddRows;
  readonly long: OddRows;
  readonly repeatedHeader: OddRows;
}

function withoutBlankEnd(cells: readonly string[]): readonly string[] {
  let last = cells.length;
  while (last > 0 && cells[last - 1] === '') last--;
  return cells.slice(0, last);
}

function rowsExpected(layout: Layout, bytes: number): number {
  const last = layout.sample[layout.sample.length - 1];
  const perRow = last ? (last.end - layout.dataOffset) / layout.sample.length : bytes;
  return Math.ceil((bytes / Math.max(2, perRow)) * 1.1) + 16;
}

/** An empty table with room for what a first block of `bytes` should hold; its columns are to be added. */
export function startTable(
  layout: Layout,
  rules: CellRules,
  names: readonly string[],
  bytes: number,
  fileName: string,
): TableBuilder {
  const none = () => ({ count: 0, firstLine: 0 });
  return {
    fileName,
    rules,
    fieldCount: names.length,
    columns: [],
    values: [],
    modes: new Uint8Array(names.length),
    headerCells: layout.names ? withoutBlankEnd(layout.names.cells) : [],
    unitsCells: layout.units && withoutBlankEnd(layout.units.cells),
    commentPrefix: layout.commentPrefix,
    capacity: rowsExpected(layout, bytes),
    row: 0,
    line: layout.dataLine,
    firstDataLine: layout.dataLine,
    strayTexts: 0,
    commentSeen: layout.commentSeen,
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

export function ensureRow(builder: TableBuilder): void {
  if (builder.row < builder.capacity) return;
  builder.capacity = Math.max(64, Math.ceil(builder.capacity * 1.5));
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

/** Ends the current row of `cells` cells. A row in which every cell is blank does not count. */
export function endRow(builder: TableBuilder, cells: number, filled: boolean, filledBeyond: boolean): void {
  if (!filled) return;
  if (cells < builder.fieldCount) {
    for (let field = cells; field < builder.fieldCount; field++) {
      const column = builder.columns[field];
      if (column) column.values[builder.row] = Number.NaN;
    }
    count(builder.short, builder.line);
  } else if (filledBeyond) count(builder.long, builder.line);
  if (builder.strayTexts > 1) refuseOtherHeader(builder);
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
