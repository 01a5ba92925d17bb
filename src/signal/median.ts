import { median as selectMedian } from 'simple-statistics';

/**
 * Median; the mean of the middle two for an even count.
 * @param values finite, any order, any one unit
 * @throws RangeError if `values` is empty
 * @example median([3, 1, 2, 10]) // => 2.5
 */
export function median(values: ArrayLike<number>): number {
  if (values.length === 0) throw new RangeError('a median needs at least one value');
  return selectMedian(values as number[]);
}
