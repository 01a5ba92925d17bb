import { formatNumber } from '../kernel/format-number.ts';
import { UserError } from '../kernel/user-error.ts';
import { median } from '../signal/median.ts';
import { rowIntervalS } from '../signal/row-interval.ts';
import type { TimeSegment } from './recording.ts';

export interface MendedTime {
  /** Seconds, strictly increasing, one per row given; starts where the log's clock starts. */
  readonly time: Float64Array;
  readonly segments: readonly TimeSegment[];
  readonly notes: readonly string[];
}

/** Rows that carry one stamp. */
interface Group {
  /** Index of the first row. */
  readonly first: number;
  readonly stamp: number;
  rows: number;
  /** Whether a new stretch begins here. */
  readonly opens: boolean;
}

/** A gap is longer than this many usual steps, and longer than a second. */
const GAP_STEPS = 10;
const GAP_LEAST_S = 1;
/** A backward step shorter than this many usual steps is jitter of the clock. */
const JITTER_STEPS = 2;
/** Stamps closer than this are one stamp: what is left between them comes from the arithmetic of earlier shifts, s. */
const SAME_STAMP_S = 1e-7;

const seconds = (value: number) => `${formatNumber(value, 's')} s`;
const rowsText = (count: number) => (count === 1 ? '1 row' : `${count} rows`);

interface Tally {
  repeated: number;
  jitter: number;
  stray: number;
  back: { row: number; size: number }[];
  gaps: { row: number; size: number }[];
}

const longestStep = (usual: number) => Math.max(GAP_LEAST_S, GAP_STEPS * usual);

/** Whether every row lies after the one before, and by less than a gap: the usual log, which needs no mending. */
function isSound(raw: Float64Array, gapS: number): boolean {
  let before = raw[0];
  for (let i = 1, n = raw.length; i < n; i++) {
    const now = raw[i];
    if (!(now > before && now - before <= gapS)) return false;
    before = now;
  }
  return true;
}

/** Groups of rows by stamp on a clock that never goes back: backward steps are carried over, jitter and strays join the stamp before. */
function groupRows(raw: Float64Array, step: number, tally: Tally): Group[] {
  const gapS = longestStep(step);
  const groups: Group[] = [{ first: 0, stamp: raw[0], rows: 1, opens: true }];
  let shift = 0;
  for (let i = 1, n = raw.length; i < n; i++) {
    const now = groups[groups.length - 1];
    const moved = raw[i] + shift - now.stamp;
    const next = i + 1 < raw.length ? raw[i + 1] + shift - now.stamp : Number.NaN;
    const stray = (moved > gapS || moved <= -JITTER_STEPS * step) && next > 0 && next <= gapS;
    if (stray) tally.stray++;
    else if (Math.abs(moved) < SAME_STAMP_S) tally.repeated++;
    else if (moved < 0 && moved > -JITTER_STEPS * step) tally.jitter++;
    if (stray || (moved < SAME_STAMP_S && moved > -JITTER_STEPS * step)) {
      now.rows++;
    } else if (moved < 0) {
      tally.back.push({ row: i, size: -moved });
      shift += step - moved;
      groups.push({ first: i, stamp: now.stamp + step, rows: 1, opens: true });
    } else {
      const isGap = moved > gapS;
      if (isGap) tally.gaps.push({ row: i, size: moved });
      groups.push({ first: i, stamp: raw[i] + shift, rows: 1, opens: isGap });
    }
  }
  return groups;
}

/** Rows that share a stamp are spread evenly up to the next one; where a stretch begins or ends within a stamp, at the usual pace. */
function spread(groups: readonly Group[], count: number, step: number): Float64Array {
  const time = new Float64Array(count);
  const whole = groups.length > 2 ? groups.slice(1, -1) : groups;
  const usualRows = Math.max(1, Math.round(median(whole.map((group) => group.rows))));
  for (const [g, group] of groups.entries()) {
    const next = groups[g + 1];
    const joined = next !== undefined && !next.opens;
    const span = joined ? next.stamp - group.stamp : step;
    const cut = (group.opens || !joined) && group.rows < usualRows;
    const pace = span / (cut ? usualRows : group.rows);
    const start = group.opens && joined && cut ? next.stamp - group.rows * pace : group.stamp;
    for (let j = 0; j < group.rows; j++) time[group.first + j] = start + j * pace;
  }
  return time;
}

function notesOf(tally: Tally, firstRow: number): string[] {
  const notes: string[] = [];
  if (tally.repeated > 0) {
    notes.push(`${rowsText(tally.repeated)} with the time of the row before; spread evenly up to the next time.`);
  }
  if (tally.jitter > 0) {
    notes.push(`Time steps back a little at ${rowsText(tally.jitter)}; spread between the neighbours.`);
  }
  if (tally.stray > 0) {
    notes.push(`The time of ${rowsText(tally.stray)} fits neither neighbour; it is taken from the rows around.`);
  }
  for (const [list, what, then] of [
    [tally.back, 'Time goes back by', 'the log goes on from there as a new stretch'],
    [tally.gaps, 'Time jumps ahead by', 'nothing is judged across the gap'],
  ] as const) {
    if (list.length === 0) continue;
    const worst = list.reduce((a, b) => (b.size > a.size ? b : a));
    const times = list.length === 1 ? '' : `, and ${list.length - 1} times more by less or the same`;
    notes.push(`${what} ${seconds(worst.size)} at row ${worst.row + firstRow}${times}; ${then}.`);
  }
  return notes;
}

/**
 * Makes a clock that strictly increases out of the stamps of a log: repeated stamps are spread, small backward jitter smoothed, a real
 * backward step or a gap starts a new segment. Each of these is told.
 * @param raw seconds, finite, one per row
 * @param firstRow number of the first row, for notes
 */
export function mendTime(raw: Float64Array, firstRow = 1): MendedTime {
  const step = rowIntervalS(raw);
  if (Number.isNaN(step)) {
    const what = raw.length < 2 ? 'the log has a time in one row only.' : 'the time never moves forward.';
    throw new UserError(what, 'time', 'Check that the mapping names the right time column.');
  }
  if (isSound(raw, longestStep(step))) {
    return { time: raw, segments: [{ startS: raw[0], endS: raw[raw.length - 1] }], notes: [] };
  }
  const tally: Tally = { repeated: 0, jitter: 0, stray: 0, back: [], gaps: [] };
  const groups = groupRows(raw, step, tally);
  const untouched = groups.length === raw.length && tally.back.length === 0;
  const time = untouched ? raw : spread(groups, raw.length, step);
  const opening = groups.filter((group) => group.opens).map((group) => group.first);
  const segments = opening.map((first, s) => ({
    startS: time[first],
    endS: time[(opening[s + 1] ?? raw.length) - 1],
  }));
  return { time, segments, notes: notesOf(tally, firstRow) };
}
