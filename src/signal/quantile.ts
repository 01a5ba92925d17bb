import { quickselect } from './quickselect.ts';
import { workingCopy } from './working-copy.ts';

/**
 * Sample quantile, type 7 of Hyndman and Fan (1996): linear between order statistics at position (n − 1)p.
 * @param values finite, any order, any one unit
 * @param p 0…1
 * @throws RangeError if `values` is empty or `p` is outside 0…1
 * @example quantile([1, 2, 4, 8, 16, 32, 64, 128, 256, 512], 0.9) // => 281.6
 */
export function quantile(values: ArrayLike<number>, p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`quantile needs a share from 0 to 1, not ${p}`);
  const copy = workingCopy(values);
  const position = (copy.length - 1) * p;
  const rank = Math.floor(position);
  const below = quickselect(copy, rank);
  if (rank === position) return below;
  const above = quickselect(copy, rank + 1, rank + 1);
  return below + (position - rank) * (above - below);
}
