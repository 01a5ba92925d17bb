import { quantile } from './quantile.ts';

/**
 * Whether a quantile (see `quantile`) lies above a level. Counts the values above it and stops as soon as they are enough, which
 * for a high quantile of a signal that is mostly above is soon.
 * @param values finite, any order, at least one
 * @param p 0…1
 * @param level unit of `values`
 * @example quantileExceeds([1, 2, 4, 8, 16, 32, 64, 128, 256, 512], 0.9, 280) // => true
 */
export function quantileExceeds(values: ArrayLike<number>, p: number, level: number): boolean {
  const enough = values.length - Math.floor((values.length - 1) * p);
  let count = 0;
  for (let i = 0, n = values.length; i < n; i++) {
    if (values[i] > level) count++;
    if (count === enough) return true;
  }
  return count === enough - 1 && quantile(values, p) > level;
}
