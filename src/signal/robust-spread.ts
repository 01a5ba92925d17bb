import { median } from './median.ts';
import { workspace } from './working-copy.ts';

/** Makes the median absolute deviation estimate the standard deviation of normal data: 1 / Φ⁻¹(0.75). */
const NORMAL_CONSISTENCY = 1.482602218505602;

const roomForDeviations = workspace();

/**
 * Spread as a standard deviation that outliers cannot move: 1.4826 × median absolute deviation from the median.
 * Zero where more than half of the values are equal.
 * @param values finite
 * @returns in the unit of `values`
 * @throws RangeError if `values` is empty
 * @example robustSpread([1, 2, 3, 4, 5, 6, 7, 8, 100]) // => 2.9652
 */
export function robustSpread(values: ArrayLike<number>): number {
  const centre = median(values);
  const deviations = roomForDeviations(values.length);
  for (let i = 0, n = deviations.length; i < n; i++) deviations[i] = Math.abs(values[i] - centre);
  return NORMAL_CONSISTENCY * median(deviations);
}
