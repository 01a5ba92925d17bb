import { sortedCopy } from './sorted-copy.ts';

/**
 * Median; the mean of the middle two for an even count.
 * @param values finite, any order, any one unit
 * @throws RangeError if `values` is empty
 * @example median([3, 1, 2, 10]) // => 2.5
 */
export function median(values: ArrayLike<number>): number {
  const sorted = sortedCopy(values);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
