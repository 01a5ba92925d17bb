import type { Span } from './health-doubt.ts';

/** A stretch in which every reading is one and the same value. */
export interface ConstantRun extends Span {
  readonly value: number;
  readonly updates: number;
}

/** Relative differences below this come from arithmetic (unit conversion, air pressure added), not from the sensor. */
const ROUNDING = 1e-9;

/** Stretches of at least `leastUpdates` readings of one unchanging value, in order. */
export function constantRuns(time: Float64Array, values: Float64Array, leastUpdates: number): ConstantRun[] {
  const runs: ConstantRun[] = [];
  let from = 0;
  for (let i = 1; i <= values.length; i++) {
    if (i < values.length && Math.abs(values[i] - values[from]) <= ROUNDING * Math.abs(values[from])) continue;
    if (i - from >= leastUpdates) {
      runs.push({ startS: time[from], endS: time[i - 1], value: values[from], updates: i - from });
    }
    from = i;
  }
  return runs;
}
