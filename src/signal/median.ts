import { quickselect } from './quickselect.ts';
import { workingCopy } from './working-copy.ts';

/**
 * Median; the mean of the middle two for an even count.
 * @param values finite, any order, any one unit
 * @throws RangeError if `values` is empty
 * @example median([3, 1, 2, 10]) // => 2.5
 */
export function median(values: ArrayLike<number>): number {
  const copy = workingCopy(values);
  const middle = copy.length >> 1;
  const upper = quickselect(copy, middle);
  if (copy.length % 2 === 1) return upper;
  return (quickselect(copy, middle - 1, 0, middle - 1) + upper) / 2;
}
