import { oncePer } from '../kernel/once-per.ts';
import { holdPeriodRows, SHORTEST_GAPS_AT_MOST, type ValueChange } from './hold-period.ts';
import { median } from './median.ts';
import { rowIntervalS } from './row-interval.ts';

/** The true updates of a channel. */
export interface Updates {
  /** Seconds between true updates; NaN for fewer than two rows. */
  readonly periodS: number;
  readonly rateHz: number;
  /** Index of one row per true update, ascending, the first row always among them. */
  readonly keep: Uint32Array;
}

/** A channel with fewer values than this is a state (gear, switch, code), which changes when it changes. */
const FEWEST_VALUES = 5;

/** Whether the values are few; every value but the first comes in by a change. */
function takesFewValues(values: ArrayLike<number>, changed: readonly number[]): boolean {
  const seen = new Set<number>([values[0]]);
  for (let k = 0; k < changed.length && seen.size < FEWEST_VALUES; k++) seen.add(values[changed[k]]);
  return seen.size < FEWEST_VALUES;
}

/**
 * Rows where the value changed; none where so many changes follow each other row by row that no hold is possible, which
 * spares the many channels without one the search.
 */
function changedRows(values: ArrayLike<number>): number[] {
  const rows: number[] = [];
  const surelyTooMany = SHORTEST_GAPS_AT_MOST * (values.length - 1);
  let adjacent = 0;
  let last = 0;
  let before = values[0];
  for (let i = 1, total = values.length; i < total; i++) {
    const now = values[i];
    if (now === before) continue;
    if (last > 0 && last === i - 1 && ++adjacent > surelyTooMany) return [];
    before = now;
    last = i;
    rows.push(i);
  }
  return adjacent > SHORTEST_GAPS_AT_MOST * rows.length ? [] : rows;
}

/** Mean time of a period over the gaps of one to three periods, without those that span a pause of the log. */
function periodSeconds(time: ArrayLike<number>, changed: readonly number[], periodRows: number): number {
  const spans: { seconds: number; periods: number }[] = [];
  for (let k = 1, total = changed.length; k < total; k++) {
    const periods = Math.round((changed[k] - changed[k - 1]) / periodRows);
    if (periods >= 1 && periods <= 3) spans.push({ seconds: time[changed[k]] - time[changed[k - 1]], periods });
  }
  const usual = median(spans.map((s) => s.seconds / s.periods));
  const sound = spans.filter((s) => Math.abs(s.seconds / s.periods - usual) <= 0.5 * usual);
  return sound.reduce((sum, s) => sum + s.seconds, 0) / sound.reduce((sum, s) => sum + s.periods, 0);
}

/** The first row of each update: where the value changed and, in longer repeats, once a period after that. */
function updateRows(time: ArrayLike<number>, changed: readonly number[], periodRows: number): Uint32Array {
  const keep: number[] = [];
  const starts = [0, ...changed];
  for (let k = 0, total = starts.length; k < total; k++) {
    const end = k + 1 < starts.length ? starts[k + 1] : time.length;
    const updates = Math.max(1, Math.round((end - starts[k]) / periodRows));
    for (let u = 0; u < updates; u++) keep.push(Math.round(starts[k] + (u * (end - starts[k])) / updates));
  }
  return Uint32Array.from(keep);
}

/** The indexes of all rows. */
const everyRow = oncePer((time: ArrayLike<number>): Uint32Array => {
  const rows = new Uint32Array(time.length);
  for (let i = 0, total = rows.length; i < total; i++) rows[i] = i;
  return rows;
});

/**
 * Sees through held values: many loggers write a row per tick and repeat a channel's last value until it is polled
 * again. Finds how often the channel was really updated and one row for each update.
 *
 * A hold is believed only on evidence beyond chance. A constant or nearly constant channel, a state with few values,
 * and a slow signal on a coarse scale are taken as updated at every row, which keeps all rows. Rates that change
 * within the log are not told apart: the commonest counts. Holds of less than two rows on average may go unseen.
 * @param time seconds, ascending; not to be changed afterwards
 * @param values finite, same length, as logged
 * @throws RangeError if lengths differ
 * @example findUpdates([0, 1, 2, 3], [7, 7, 7, 7]) // => { periodS: 1, rateHz: 1, keep: [0, 1, 2, 3] }
 */
export function findUpdates(time: ArrayLike<number>, values: ArrayLike<number>): Updates {
  const n = values.length;
  if (time.length !== n) throw new RangeError(`${time.length} times but ${n} values`);
  const candidates = changedRows(values);
  const changed = takesFewValues(values, candidates) ? [] : candidates;
  const changes: ValueChange[] = [];
  for (let k = 1, total = changed.length; k < total; k++) {
    const row = changed[k];
    changes.push({ gapRows: row - changed[k - 1], size: Math.abs(values[row] - values[row - 1]) });
  }
  const periodRows = holdPeriodRows(changes);
  if (periodRows === undefined) {
    const periodS = rowIntervalS(time);
    return { periodS, rateHz: 1 / periodS, keep: everyRow(time) };
  }
  const periodS = periodSeconds(time, changed, periodRows);
  return { periodS, rateHz: 1 / periodS, keep: updateRows(time, changed, periodRows) };
}
