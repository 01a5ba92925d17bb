import { findUpdates } from '../signal/held-values.ts';
import { rowIntervalS } from '../signal/row-interval.ts';
import { workingCopy } from '../signal/working-copy.ts';
import { channelEntry } from './catalogue.ts';
import type { CellSeries } from './cell-series.ts';
import { isStatusLike } from './channel-kind.ts';
import { isPersonalColumn } from './personal-column.ts';
import type { Channel } from './recording.ts';
import { finiteRows, pick } from './row-time.ts';

/** Steps are looked for among this many values. */
const STEP_SAMPLE = 1000;

/** Smallest step between distinct values of the first stretch; 0 where there is but one value. */
export function smallestStep(values: Float64Array): number {
  if (values.length === 0) return 0;
  const sorted = workingCopy(values.subarray(0, STEP_SAMPLE)).sort();
  const noise = 1e-9 * Math.max(Math.abs(sorted[0]), Math.abs(sorted[sorted.length - 1]));
  let step = Number.POSITIVE_INFINITY;
  let before = sorted[0];
  for (let i = 1, n = sorted.length; i < n; i++) {
    const value = sorted[i];
    const difference = value - before;
    before = value;
    if (difference > noise && difference < step) step = difference;
  }
  return Number.isFinite(step) ? step : 0;
}

function thinned(series: CellSeries, time: Float64Array, values: Float64Array) {
  if (isStatusLike(series.id) || values.length < 2) {
    return { time, values, rateHz: 1 / rowIntervalS(time) };
  }
  const { keep, rateHz } = findUpdates(time, values);
  if (keep.length === values.length) return { time, values, rateHz };
  return { time: pick(time, keep), values: pick(values, keep), rateHz };
}

function countOutside(values: Float64Array, low: number, high: number): number {
  let count = 0;
  for (let i = 0, n = values.length; i < n; i++) if (values[i] < low || values[i] > high) count++;
  return count;
}

/**
 * A channel from its values in canonical unit: blanks dropped, held repeats seen through (never for states and counts). Channels
 * without blanks or repeats share the time array they came with. Undefined where there is no value at all.
 */
export function buildChannel(
  series: CellSeries,
  canonical: Float64Array,
  notes: readonly string[],
): Channel | undefined {
  const rows = finiteRows(canonical);
  const present = pick(canonical, rows);
  if (present.length === 0) return undefined;
  const { time, values, rateHz } = thinned(series, pick(series.time, rows), present);
  let min = values[0];
  let max = values[0];
  for (let i = 1, n = values.length; i < n; i++) {
    const value = values[i];
    if (value < min) min = value;
    else if (value > max) max = value;
  }
  const [low, high] = channelEntry(series.id).plausible;
  return {
    id: series.id,
    column: isPersonalColumn(series.column.name) ? '(removed)' : series.column.name,
    time,
    values,
    rateHz,
    coverage: series.values.length > 0 ? present.length / series.values.length : 0,
    min,
    max,
    step: min === max ? 0 : smallestStep(values),
    implausibleCount: min < low || max > high ? countOutside(values, low, high) : 0,
    notes,
  };
}
