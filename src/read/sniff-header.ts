import { isMeasured } from './classify-cell.ts';
import { type HeadRecord, isBlank, startsWithPrefix } from './head-records.ts';
import { isCommonMissing } from './missing-tokens.ts';
import { isUnitLike } from './unit-like.ts';

export interface HeaderPlace {
  /** Index of the row of names among the records; -1 where there is none. */
  readonly names: number;
  /** Index of the row of units, or -1. */
  readonly units: number;
  /** Index of the first record behind the header. */
  readonly next: number;
}

type CellClass = 'measured' | 'blank' | 'text';

/** The unit may not start with what may end the number: a cell has one way to match, so the time is linear. */
const NUMBER_WITH_UNIT = /^[-+]?\d[\d.,]* ?([^\d.,]\D*)$/;

function classOf(cell: string): CellClass {
  if (cell === '' || isCommonMissing(cell)) return 'blank';
  if (isMeasured(cell)) return 'measured';
  const numberWithUnit = NUMBER_WITH_UNIT.exec(cell);
  return numberWithUnit && isUnitLike(numberWithUnit[1]) ? 'measured' : 'text';
}

function holdsData(record: HeadRecord): boolean {
  return record.cells.some((cell) => classOf(cell) === 'measured' || (cell.length > 1 && isCommonMissing(cell)));
}

/** The commonest number of cells, at least `least`, among records that hold data. */
export function dataWidth(records: readonly HeadRecord[], least = 2): number {
  const tally = new Map<number, number>();
  let best = 0;
  for (const record of records) {
    if (record.cells.length < least || !holdsData(record)) continue;
    const times = (tally.get(record.cells.length) ?? 0) + 1;
    tally.set(record.cells.length, times);
    if (times > (tally.get(best) ?? 0)) best = record.cells.length;
  }
  return best;
}

/** Names are texts, mostly different ones, and enough of them for the data below. */
function couldBeNames(record: HeadRecord, width: number): boolean {
  const filled = record.cells.filter((cell) => cell !== '');
  if (filled.length < Math.max(Math.min(2, width), width / 2)) return false;
  const texts = filled.filter((cell) => classOf(cell) === 'text');
  return texts.length >= filled.length * 0.7 && new Set(texts).size >= texts.length * 0.6;
}

/** Unit-like cells as a share of those that hold something. */
function unitShare(record: HeadRecord): number {
  const filled = record.cells.filter((cell) => cell !== '');
  return filled.length === 0 ? 0 : filled.filter(isUnitLike).length / filled.length;
}

/** Whether `below` gives units to the names in `names`. */
function isUnitsRow(below: HeadRecord, names: HeadRecord): boolean {
  if (below.cells.some(isMeasured)) return false;
  const share = unitShare(below);
  return share >= 0.6 && share > unitShare(names);
}

function isComment(record: HeadRecord, prefix: string): boolean {
  return startsWithPrefix(record.text, prefix);
}

/** The nearest record above `at` that is not blank; -1 where there is none. */
function above(records: readonly HeadRecord[], at: number): number {
  let i = at - 1;
  while (i >= 0 && isBlank(records[i])) i--;
  return i;
}

/** The header right above the data that starts at `at`, with its units; undefined where what stands there are no names. */
function headerAbove(
  records: readonly HeadRecord[],
  at: number,
  width: number,
  prefix: string,
): HeaderPlace | undefined {
  let lower = above(records, at);
  while (lower >= 0 && isComment(records[lower], prefix)) {
    const upper = above(records, lower);
    const namesAbove = upper >= 0 && !isComment(records[upper], prefix) && couldBeNames(records[upper], width);
    if (couldBeNames(records[lower], width) && !namesAbove) break;
    if (namesAbove && isUnitsRow(records[lower], records[upper])) break;
    lower = upper;
  }
  if (lower < 0) return undefined;
  const upper = above(records, lower);
  if (upper >= 0 && couldBeNames(records[upper], width) && isUnitsRow(records[lower], records[upper])) {
    return { names: upper, units: lower, next: lower + 1 };
  }
  return couldBeNames(records[lower], width) ? { names: lower, units: -1, next: lower + 1 } : undefined;
}

/** Rows looked at below a header before it is believed. */
const LOOK_AHEAD = 20;

/** A preamble of names and values, perhaps with units, has no more columns than this. */
const PREAMBLE_WIDTH = 3;

function firstClass(record: HeadRecord): CellClass {
  return classOf(record.cells[0]);
}

/**
 * Whether what was found is a preamble of names and values: every row of it starts with a text, then wholly other names
 * follow, and below those the first column is numbers or times.
 */
function isPreamble(records: readonly HeadRecord[], place: HeaderPlace, width: number, prefix: string): boolean {
  if (width > PREAMBLE_WIDTH) return false;
  const names = new Set(records[place.names].cells);
  for (let i = place.next; i < Math.min(place.next + LOOK_AHEAD, records.length - 1); i++) {
    const record = records[i];
    if (isBlank(record) || isComment(record, prefix)) continue;
    if (firstClass(record) !== 'text') return false;
    const below = records.findIndex((r, k) => k > i && !isBlank(r) && !isComment(r, prefix));
    if (below < 0 || firstClass(records[below]) !== 'measured') continue;
    return couldBeNames(record, width) && !record.cells.some((cell) => cell !== '' && names.has(cell));
  }
  return false;
}

/**
 * Finds the header: the names right above the first stretch of data rows of the usual width. A preamble is whatever
 * stands before it. `prefix` starts comment lines; a header may start with it too.
 */
function findHeader(records: readonly HeadRecord[], prefix: string, leastWidth: number): HeaderPlace | undefined {
  const width = dataWidth(records, leastWidth);
  if (width === 0) return undefined;
  for (let i = 1; i < records.length; i++) {
    const record = records[i];
    if (Math.abs(record.cells.length - width) > 1 || isComment(record, prefix) || !holdsData(record)) continue;
    const place = headerAbove(records, i, width, prefix);
    if (place && !isPreamble(records, place, width, prefix)) return place;
  }
  return undefined;
}

/** The header where the user has said how many rows to skip, or how many the header has, or both. */
export function placeHeader(
  records: readonly HeadRecord[],
  prefix: string,
  skipRows: number | undefined,
  headerRowCount: number | undefined,
  leastWidth = 2,
): HeaderPlace | undefined {
  if (skipRows === undefined) {
    const found = findHeader(records, prefix, leastWidth);
    if (headerRowCount === 0) {
      const width = dataWidth(records, leastWidth);
      const first = records.findIndex((r) => r.cells.length >= width && !isComment(r, prefix) && holdsData(r));
      return first < 0 ? undefined : { names: -1, units: -1, next: first };
    }
    if (!found || headerRowCount === undefined) return found;
    let names = found.next - 1;
    for (let row = 1; row < headerRowCount && names > 0; row++) names = Math.max(0, above(records, names));
    return withRowCount(records, names, headerRowCount);
  }
  let names = records.findIndex((record) => record.line > skipRows && !isBlank(record));
  if (names < 0) return undefined;
  if (headerRowCount === 0) return { names: -1, units: -1, next: names };
  const later = records.findIndex((r, i) => i > names && !isBlank(r) && !isComment(r, prefix));
  if (isComment(records[names], prefix) && later > 0 && couldBeNames(records[later], records[later].cells.length)) {
    names = later;
  }
  const below = records.findIndex((record, i) => i > names && !isBlank(record));
  const rows = headerRowCount ?? (below > 0 && isUnitsRow(records[below], records[names]) ? 2 : 1);
  return withRowCount(records, names, rows);
}

function withRowCount(records: readonly HeadRecord[], names: number, rows: number): HeaderPlace {
  let next = names + 1;
  let units = -1;
  for (let row = 2; row <= rows && next < records.length; next++) {
    if (isBlank(records[next]) && units >= 0) continue;
    if (row === 2) units = next;
    row++;
  }
  return { names, units, next };
}
