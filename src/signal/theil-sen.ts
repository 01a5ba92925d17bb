import { median } from './median.ts';
import { normalQuantile } from './normal.ts';
import { quickselect } from './quickselect.ts';
import { tieCorrection } from './tie-correction.ts';
import { workspace } from './working-copy.ts';

/** A robust straight line with the confidence interval of its slope. */
export interface RobustLine {
  readonly slope: number;
  readonly intercept: number;
  readonly slopeLow: number;
  readonly slopeHigh: number;
  /** Points the line stands on. */
  readonly n: number;
}

/** Up to so many pairs all are used (128 points), else a choice of about as many: what that adds to the slope's error is in its interval. */
const MOST_PAIRS = 8128;
/** Long series get so many pairs a point, which leaves the slope's error at 1.25 times that of all pairs. */
const PAIRS_PER_POINT = 4;

const roomForSlopes = workspace();

/**
 * The slopes of every `step`-th pair. Each point begins at a partner drawn by lot, always the same: any rule would let
 * neighbours share partners, and a rhythm in the data be sampled in step. The lot is the linear congruential generator of Numerical
 * Recipes (1992), section 7.1, constants from memory.
 */
function pairSlopes(x: ArrayLike<number>, y: ArrayLike<number>, step: number): Float64Array {
  const n = x.length;
  const slopes = roomForSlopes(Math.ceil((n * (n - 1)) / 2 / step) + n);
  let count = 0;
  let lot = 0;
  for (let i = 0; i < n; i++) {
    lot = (Math.imul(lot, 1664525) + 1013904223) >>> 0;
    const xi = x[i];
    const yi = y[i];
    const first = i + 1 + Math.floor((step * lot) / 2 ** 32);
    for (let j = first; j < n; j += step) {
      const run = x[j] - xi;
      if (run !== 0) slopes[count++] = (y[j] - yi) / run;
    }
  }
  return slopes.subarray(0, count);
}

/** To the nearest whole number, halves to the even one. */
function roundHalfEven(value: number): number {
  const rounded = Math.round(value);
  return Math.abs(value % 1) === 0.5 && rounded % 2 !== 0 ? rounded - 1 : rounded;
}

/** The slopes of the pairs that are used: every `step`-th one. */
function slopesOf(x: ArrayLike<number>, y: ArrayLike<number>): { slopes: Float64Array; step: number } {
  const n = x.length;
  if (n !== y.length) throw new RangeError(`x has ${n} values but y has ${y.length}`);
  if (n < 2) throw new RangeError('a line needs at least two points');
  const step = Math.ceil((n * (n - 1)) / 2 / Math.max(MOST_PAIRS, PAIRS_PER_POINT * n));
  const slopes = pairSlopes(x, y, step);
  if (slopes.length === 0) throw new RangeError('a line needs at least two different x');
  return { slopes, step };
}

/** The median of slopes, which it puts in order about their middle. */
function middleSlope(slopes: Float64Array): number {
  const middle = slopes.length >> 1;
  const upper = quickselect(slopes, middle);
  return slopes.length % 2 === 1 ? upper : (upper + quickselect(slopes, middle - 1, 0, middle)) / 2;
}

/**
 * The slope of the Theil–Sen line alone, for where its interval is not asked for.
 * @param x finite, any order
 * @param y finite, same length
 * @returns y per x
 * @throws RangeError as `theilSen`
 * @example theilSenSlope([0, 1, 2, 3, 4], [1, 3, 5, 7, 99]) // => 2
 */
export function theilSenSlope(x: ArrayLike<number>, y: ArrayLike<number>): number {
  return middleSlope(slopesOf(x, y).slopes);
}

/**
 * Theil–Sen line: the median of the slopes of all pairs of points; up to 29 % of the points may be wild.
 * Pairs of equal x are left out. The interval is Sen's (1968): order statistics of the slopes, with ties in x and y
 * taken from the variance, and the chance of the choice added where not every pair is used. Intercept: median(y) − slope × median(x).
 * @param x finite, any order
 * @param y finite, same length
 * @param confidence of the slope interval, 0…1
 * @param effectiveN how many independent readings the points are worth, where neighbours are correlated: widens the interval
 * @returns slope in y per x
 * @throws RangeError if lengths differ, fewer than two points, or all x are equal
 * @example theilSen([0, 1, 2, 3, 4], [1, 3, 5, 7, 99]).slope // => 2
 */
export function theilSen(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  confidence = 0.95,
  effectiveN: number = x.length,
): RobustLine {
  const n = x.length;
  const { slopes, step } = slopesOf(x, y);
  const slope = middleSlope(slopes);
  const pairs = slopes.length;
  const middle = pairs >> 1;

  const independent = (n * (n - 1) * (2 * n + 5) - tieCorrection(x) - tieCorrection(y)) / 18;
  const ofAllPairs = Math.max(0, independent) * (n / Math.min(n, Math.max(1, effectiveN)));
  const variance = ofAllPairs / step ** 2 + (1 - 1 / step) * pairs;
  const reach = normalQuantile((1 + confidence) / 2) * Math.sqrt(variance);
  const low = Math.max(roundHalfEven((pairs - reach) / 2) - 1, 0);
  const high = Math.min(roundHalfEven((pairs + reach) / 2), pairs - 1);
  return {
    slope,
    intercept: median(y) - slope * median(x),
    slopeLow: Math.min(slope, quickselect(slopes, low, 0, middle)),
    slopeHigh: Math.max(slope, quickselect(slopes, high, middle)),
    n,
  };
}
