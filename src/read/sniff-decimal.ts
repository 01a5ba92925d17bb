import { type DecimalChar, parseNumber } from './cell-number.ts';

const BOTH = /^[-+]?\d[\d.,]*$/;

/**
 * Tells the decimal character from sample cells. `47,3` speaks for a comma; `1,234` alone could be a digit group, so it
 * counts only where the comma is not the delimiter; a cell with both characters has the later one as its decimal.
 */
export function sniffDecimal(cells: readonly string[], delimiter: string): DecimalChar {
  if (!cells.some((cell) => cell.includes(','))) return '.';
  let comma = 0;
  let point = 0;
  let unclear = 0;
  for (const cell of cells) {
    const commaAt = cell.lastIndexOf(',');
    const pointAt = cell.lastIndexOf('.');
    if (commaAt < 0) {
      if (pointAt >= 0 && !Number.isNaN(parseNumber(cell, '.'))) point++;
    } else if (pointAt >= 0) {
      if (BOTH.test(cell)) commaAt > pointAt ? comma++ : point++;
    } else if (!Number.isNaN(parseNumber(cell, ','))) {
      if (/^[-+]?[1-9]\d{0,2},\d{3}$/.test(cell)) unclear++;
      else comma++;
    }
  }
  if (comma > point) return ',';
  return comma === 0 && point === 0 && unclear > 0 && delimiter !== ',' ? ',' : '.';
}

const GROUPED = /^[-+]?[1-9]\d{0,2}(?:[.,]\d{3})+$/;
const DECIMAL = /^[-+]?\d+[.,]\d+$/;
/** Fewer cells than this may be texts that only look like numbers. */
const FEWEST_AGAINST = 5;

/** Whether sample cells speak against the decimal character given: several are decimal numbers under the other one alone, and none under it. */
export function contradictsDecimal(cells: Iterable<string>, given: DecimalChar): boolean {
  const other = given === '.' ? ',' : '.';
  let against = 0;
  for (const cell of cells) {
    if (cell.includes(given)) return false;
    if (cell.includes(other) && DECIMAL.test(cell) && !GROUPED.test(cell)) against++;
  }
  return against >= FEWEST_AGAINST;
}
