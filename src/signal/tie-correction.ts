import { workingCopy } from './working-copy.ts';

/**
 * The sum Σ t(t − 1)(2t + 5) over groups of t equal values: what ties take from the variance of Kendall's S.
 * @example tieCorrection([1, 2, 2, 3, 3, 3]) // => 84
 */
export function tieCorrection(values: ArrayLike<number>): number {
  const sorted = isAscending(values) ? values : workingCopy(values).sort();
  let sum = 0;
  let alike = 0;
  let before = Number.NaN;
  for (let i = 0, n = sorted.length; i < n; i++) {
    const value = sorted[i];
    if (value !== before) {
      sum += weightOfTies(alike);
      alike = 0;
      before = value;
    }
    alike++;
  }
  return sum + weightOfTies(alike);
}

const weightOfTies = (t: number) => t * (t - 1) * (2 * t + 5);

function isAscending(values: ArrayLike<number>): boolean {
  let before = values[0];
  for (let i = 1, n = values.length; i < n; i++) {
    const value = values[i];
    if (!(value >= before)) return false;
    before = value;
  }
  return values.length > 0;
}
