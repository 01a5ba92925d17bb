import { parseClock } from './cell-clock.ts';
import type { CellDecoder } from './cell-decoder.ts';
import { type DecimalChar, parseGrouped, parseNumber } from './cell-number.ts';
import { unitSuffix } from './cell-suffix.ts';
import { parseTimestamp } from './cell-timestamp.ts';
import { classifyCell } from './classify-cell.ts';
import type { MissingTokens } from './missing-tokens.ts';
import { isMissing } from './missing-tokens.ts';
import type { CellKind, Column } from './table.ts';
import { trimCell } from './trim-cell.ts';

/** Distinct texts kept for a column; the rest share one label, so that a hostile column cannot fill the memory. */
export const MOST_LABELS = 1000;
const OTHER_TEXT = '(other text)';
/** Characters of a cell's text that are kept. */
const LONGEST_LABEL = 200;

/** A text column turns out to be numbers with a slow start once numbers lead by this many cells. */
const NUMBERS_LEAD = 16;

export interface ColumnBuilder {
  readonly name: string;
  readonly repeats: string | undefined;
  readonly unitText: string | undefined;
  /** Unit that every cell carries behind its number. */
  readonly suffix: string | undefined;
  /** Undefined until the first cell that tells. */
  kind: CellKind | undefined;
  values: Float64Array;
  codes: Int32Array | undefined;
  readonly labels: Map<string, number>;
  /** The keys of `labels` by their code. */
  readonly labelTexts: string[];
  /** Cells of a text column so far that read as numbers, and that do not. */
  numbers: number;
  texts: number;
}

/** What every cell of the file is read by. */
export interface CellRules {
  readonly decimalChar: DecimalChar;
  readonly missing: MissingTokens;
  readonly decoder: CellDecoder;
}

type CellOutcome = 'blank' | 'missing' | 'value' | 'stray text' | 'text';

function setLabel(column: ColumnBuilder, row: number, whole: string): void {
  const text = whole.length > LONGEST_LABEL ? `${whole.slice(0, LONGEST_LABEL - 1)}…` : whole;
  let code = column.labels.get(text);
  if (code === undefined) {
    const label = column.labels.size >= MOST_LABELS ? OTHER_TEXT : text;
    code = column.labels.get(label) ?? column.labels.size;
    if (code === column.labels.size) column.labelTexts.push(label);
    column.labels.set(label, code);
  }
  column.codes ??= new Int32Array(column.values.length).fill(-1);
  column.codes[row] = code;
}

function readValue(column: ColumnBuilder, text: string, decimalChar: DecimalChar): number {
  if (column.kind === 'clock') return parseClock(text);
  if (column.kind === 'timestamp') return parseTimestamp(text);
  if (column.suffix === undefined) {
    const plain = parseNumber(text, decimalChar);
    return Number.isNaN(plain) ? parseGrouped(text, decimalChar) : plain;
  }
  if (unitSuffix(text, decimalChar) !== column.suffix) return Number.NaN;
  return parseNumber(text.slice(0, -column.suffix.length).trim(), decimalChar);
}

/** Numbers of a column taken for text become its values; only the true texts keep a label. */
function becomeNumbers(column: ColumnBuilder, rows: number): void {
  column.kind = 'number';
  const texts = column.labelTexts.splice(0);
  column.labels.clear();
  const { codes } = column;
  if (!codes) return;
  column.codes = undefined;
  for (let row = 0; row < rows; row++) {
    if (codes[row] >= 0 && Number.isNaN(column.values[row])) setLabel(column, row, texts[codes[row]]);
  }
}

/** Puts one cell, given as byte text, into its column; what it was, the caller counts. */
export function storeCell(column: ColumnBuilder, row: number, cell: string, rules: CellRules): CellOutcome {
  const byteText = trimCell(cell);
  column.values[row] = Number.NaN;
  if (byteText === '') return 'blank';
  const text = rules.decoder.decode(byteText).trim();
  if (text === '') return 'blank';
  if (isMissing(rules.missing, text)) return 'missing';
  column.kind ??= classifyCell(text, rules.decimalChar);
  const value = readValue(column, text, rules.decimalChar);
  column.values[row] = value;
  const isValue = !Number.isNaN(value);
  if (column.kind !== 'text') {
    if (isValue) return 'value';
    setLabel(column, row, text);
    column.texts++;
    return 'stray text';
  }
  setLabel(column, row, text);
  if (isValue) column.numbers++;
  else column.texts++;
  if (column.numbers > column.texts + NUMBERS_LEAD) becomeNumbers(column, row + 1);
  return isValue ? 'value' : 'text';
}

export function growColumn(column: ColumnBuilder, capacity: number): void {
  const values = new Float64Array(capacity);
  values.set(column.values);
  column.values = values;
  if (!column.codes) return;
  const codes = new Int32Array(capacity).fill(-1);
  codes.set(column.codes);
  column.codes = codes;
}

export function finishColumn(column: ColumnBuilder, rows: number): Column {
  if (column.kind === 'text' && column.numbers > column.texts) becomeNumbers(column, rows);
  const kind = column.kind ?? 'number';
  const values = rows > column.values.length * 0.8 ? column.values.subarray(0, rows) : column.values.slice(0, rows);
  if (kind === 'text') values.fill(Number.NaN);
  const unitText = column.suffix ?? column.unitText;
  return {
    name: column.name,
    repeats: column.repeats,
    unitText,
    kind,
    values,
    labels: column.labelTexts,
    codes: column.codes?.slice(0, rows),
  };
}
