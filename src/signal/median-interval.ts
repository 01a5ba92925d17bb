import { sortedCopy } from './sorted-copy.ts';

/** A confidence interval of a median. */
export interface MedianInterval {
  readonly low: number;
  readonly high: number;
  /** Confidence really reached: at least what was asked, or less where there are too few readings for it. */
  readonly confidence: number;
}

/** The largest k with P(Binomial(n, 1/2) < k) within `tail`, and that probability; k = 0 where there is none. */
function largestTailRank(n: number, tail: number): { rank: number; probability: number } {
  let logTerm = -n * Math.LN2;
  let probability = Math.exp(logTerm);
  let rank = 0;
  let reached = 0;
  while (probability <= tail && rank < n / 2) {
    reached = probability;
    rank++;
    logTerm += Math.log((n - rank + 1) / rank);
    probability += Math.exp(logTerm);
  }
  return { rank, probability: reached };
}

/**
 * Distribution-free confidence interval of the median from order statistics: x(k) … x(n − k + 1) covers the median with
 * probability 1 − 2 P(Binomial(n, 1/2) < k), and k is the largest that keeps the confidence.
 *
 * Where readings are correlated, k is found for `effectiveN` readings and carried to the same share of the sample,
 * rounded outward. Fewer than six independent readings cannot give 95 %: the range is returned and `confidence` says
 * what it covers.
 * @param values finite, any order
 * @param effectiveN independent readings the values are worth, 1…n (see `effectiveSampleSize`)
 * @param confidence 0…1
 * @returns in the unit of `values`
 * @throws RangeError if `values` is empty
 * @example medianInterval([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], 10) // => { low: 2, high: 9, confidence: 0.979 }
 */
export function medianInterval(values: ArrayLike<number>, effectiveN: number, confidence = 0.95): MedianInterval {
  const sorted = sortedCopy(values);
  const last = sorted.length - 1;
  const n = Math.max(1, Math.min(sorted.length, Math.floor(effectiveN)));
  const { rank, probability } = largestTailRank(n, (1 - confidence) / 2);
  if (rank === 0) {
    return { low: sorted[0], high: sorted[last], confidence: Math.min(confidence, 1 - 2 ** (1 - n)) };
  }
  const index = n === 1 ? 0 : Math.floor(((rank - 1) * last) / (n - 1));
  return { low: sorted[index], high: sorted[last - index], confidence: 1 - 2 * probability };
}
