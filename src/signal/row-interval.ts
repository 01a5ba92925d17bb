import { median } from './median.ts';

/**
 * Usual distance between neighbouring samples: the median of those above zero. NaN for fewer than two instants.
 * @param time seconds, ascending
 * @returns seconds
 * @example rowIntervalS([0, 0.1, 0.2, 5, 5.1]) // => 0.1
 */
export function rowIntervalS(time: ArrayLike<number>): number {
  const steps = new Float64Array(Math.max(0, time.length - 1));
  let count = 0;
  for (let i = 1; i < time.length; i++) if (time[i] > time[i - 1]) steps[count++] = time[i] - time[i - 1];
  return count > 0 ? median(steps.subarray(0, count)) : Number.NaN;
}
