import { indexAtOrAfter } from '../pull-series.ts';
import type { Span } from './doubt.ts';

/** A stretch in which every reading is one and the same value. */
export interface ConstantRun extends Span {
  readonly value: number;
  readonly updates: number;
}

/** Relative differences below this come from arithmetic (unit conversion, air pressure added), not from the sensor. */
const ROUNDING = 1e-9;

/** Whether the readings at or after two times may lie in one stretch of an unchanging value; if not, no such stretch holds both times. */
export function mayBeOneStretch(time: Float64Array, values: Float64Array, firstS: number, secondS: number): boolean {
  const [first, second] = [values[indexAtOrAfter(time, firstS)], values[indexAtOrAfter(time, secondS)]];
  return Math.abs(first - second) <= 3 * ROUNDING * Math.abs(second);
}

/** Stretches of at least `leastUpdates` readings of one unchanging value, in order. */
export function constantRuns(time: Float64Array, values: Float64Array, leastUpdates: number): ConstantRun[] {
  const runs: ConstantRun[] = [];
  const isSame = (i: number, j: number) =>
    values[i] === values[j] || Math.abs(values[i] - values[j]) <= ROUNDING * Math.abs(values[j]);
  // Any run that counts holds two neighbours of these that are alike, so that most readings need not be looked at.
  const stride = Math.max(1, leastUpdates >> 1);
  for (let k = 0, n = values.length; k < n; k += stride) {
    if (stride > 1 && (k + stride >= values.length || !isSame(k, k + stride))) continue;
    let from = k;
    let end = k + 1;
    while (from > 0 && isSame(from - 1, k)) from--;
    while (end < values.length && isSame(end, k)) end++;
    if (end - from < leastUpdates) continue;
    runs.push({ startS: time[from], endS: time[end - 1], value: values[from], updates: end - from });
    k = stride * Math.floor((end - 1) / stride);
  }
  return runs;
}
