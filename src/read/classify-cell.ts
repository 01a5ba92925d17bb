import { parseClock } from './cell-clock.ts';
import { type DecimalChar, parseNumber } from './cell-number.ts';
import { parseTimestamp } from './cell-timestamp.ts';
import type { CellKind } from './table.ts';

/** What a cell that is not blank and not a missing token reads as by itself. */
export function classifyCell(text: string, decimalChar: DecimalChar): CellKind {
  if (!Number.isNaN(parseNumber(text, decimalChar))) return 'number';
  if (!Number.isNaN(parseClock(text))) return 'clock';
  if (!Number.isNaN(parseTimestamp(text))) return 'timestamp';
  return 'text';
}

/** Whether a cell is a number, clock time or timestamp under either decimal character. */
export function isMeasured(text: string): boolean {
  return classifyCell(text, '.') !== 'text' || classifyCell(text, ',') !== 'text';
}
