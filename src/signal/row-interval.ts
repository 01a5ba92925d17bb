import { oncePer } from '../kernel/once-per.ts';
import { median } from './median.ts';

/**
 * Usual distance between neighbouring samples: the median of those above zero. NaN for fewer than two instants.
 * Reckoned once per array: most channels of a log share theirs.
 * @param time seconds, ascending; not to be changed afterwards
 * @returns seconds
 * @example rowIntervalS([0, 0.1, 0.2, 5, 5.1]) // => 0.1
 */
export const rowIntervalS = oncePer((time: ArrayLike<number>): number => {
  const steps = new Float64Array(Math.max(0, time.length - 1));
  let count = 0;
  let before = time[0];
  for (let i = 1, n = time.length; i < n; i++) {
    const now = time[i];
    if (now > before) steps[count++] = now - before;
    before = now;
  }
  return count > 0 ? median(steps.subarray(0, count)) : Number.NaN;
});
