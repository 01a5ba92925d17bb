import { workingCopy } from './working-copy.ts';

/**
 * The sum Σ t(t − 1)(2t + 5) over groups of t equal values: what ties take from the variance of Kendall's S.
 * @example tieCorrection([1, 2, 2, 3, 3, 3]) // => 84
 */
export function tieCorrection(values: ArrayLike<number>): number {
  const sorted = isAscending(values) ? values : workingCopy(values).sort();
  let sum = 0;
  for (let start = 0; start < sorted.length; ) {
    let end = start + 1;
    while (end < sorted.length && sorted[end] === sorted[start]) end++;
    const t = end - start;
    sum += t * (t - 1) * (2 * t + 5);
    start = end;
  }
  return sum;
}

function isAscending(values: ArrayLike<number>): boolean {
  for (let i = 1; i < values.length; i++) if (!(values[i] >= values[i - 1])) return false;
  return values.length > 0;
}
