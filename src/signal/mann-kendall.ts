import { normalCdf } from './normal.ts';
import { sortedCopy } from './sorted-copy.ts';
import { tieCorrection } from './tie-correction.ts';

/** Mann–Kendall test of a monotone trend. */
export interface TrendTest {
  /** Rising pairs minus falling pairs. */
  readonly s: number;
  readonly variance: number;
  /** Standard score with continuity correction; 0 where nothing varies. */
  readonly z: number;
  /** Two-sided probability of a trend this strong by chance. */
  readonly p: number;
}

/** Rising minus falling pairs, counted with a Fenwick tree over ranks in O(n log n). */
function kendallS(values: ArrayLike<number>): number {
  const n = values.length;
  const sorted = sortedCopy(values);
  const counts = new Int32Array(n + 1);
  const seenUpTo = (rank: number) => {
    let total = 0;
    for (let k = rank; k > 0; k -= k & -k) total += counts[k];
    return total;
  };
  let s = 0;
  for (let j = 0; j < n; j++) {
    const smaller = countBelow(sorted, values[j]);
    s += seenUpTo(smaller) - (j - seenUpTo(smaller + 1));
    for (let k = smaller + 1; k <= n; k += k & -k) counts[k]++;
  }
  return s;
}

function countBelow(sorted: Float64Array, value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Mann–Kendall rank test of a trend (Mann 1945, Kendall 1975), with tie correction and continuity correction.
 * It takes the values as independent: thin or bin a fast log first, or its p is far too small.
 * @param values finite, in order of time; unit does not matter
 * @throws RangeError if `values` is empty
 * @example mannKendall([1, 2, 4, 3, 6, 5]).s // => 11
 */
export function mannKendall(values: ArrayLike<number>): TrendTest {
  const n = values.length;
  const s = kendallS(values);
  const variance = (n * (n - 1) * (2 * n + 5) - tieCorrection(values)) / 18;
  const z = variance > 0 ? (s - Math.sign(s)) / Math.sqrt(variance) : 0;
  return { s, variance, z, p: Math.min(1, 2 * normalCdf(-Math.abs(z))) };
}
