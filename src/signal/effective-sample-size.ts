import { lag1Autocorrelation } from './autocorrelation.ts';

/**
 * How many independent readings a correlated series is worth, for its mean or median: n(1 − r)/(1 + r), with r the
 * lag-1 autocorrelation (first-order autoregressive model), kept within 1…n.
 *
 * A constant series gives n: nothing in it wanders, so every reading confirms the others. An alternating series
 * (r < 0) gives n, never more.
 * @param values finite, in order of time, evenly spaced or nearly so
 * @throws RangeError if `values` is empty
 * @example effectiveSampleSize([1, 1, 2, 2]) // => 2.4
 */
export function effectiveSampleSize(values: ArrayLike<number>): number {
  const n = values.length;
  if (n === 0) throw new RangeError('needs at least one value');
  if (n === 1) return 1;
  const r = lag1Autocorrelation(values);
  if (Number.isNaN(r) || r <= 0) return n;
  return Math.max(1, (n * (1 - r)) / (1 + r));
}
