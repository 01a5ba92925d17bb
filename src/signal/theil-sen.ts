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
  /** Points the line stands on, before any subsampling. */
  readonly n: number;
}

/** All pairs up to here (2 ms); beyond it an even-stride subsample, whose median slope differs by about 0.1 %. */
const ALL_PAIRS_UP_TO = 500;
const SUBSAMPLE = 300;

function evenStride(values: ArrayLike<number>, count: number): Float64Array {
  const last = values.length - 1;
  const kept = new Float64Array(count);
  for (let i = 0; i < count; i++) kept[i] = values[Math.round((i * last) / (count - 1))];
  return kept;
}

const roomForSlopes = workspace();

function pairSlopes(x: ArrayLike<number>, y: ArrayLike<number>): Float64Array {
  const n = x.length;
  const slopes = roomForSlopes((n * (n - 1)) / 2);
  let count = 0;
  for (let i = 0; i < n; i++) {
    const xi = x[i];
    const yi = y[i];
    for (let j = i + 1; j < n; j++) {
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

/**
 * Theil–Sen line: the median of the slopes of all pairs of points; up to 29 % of the points may be wild.
 * Pairs of equal x are left out. The interval is Sen's (1968): order statistics of the slopes, with ties in x and y
 * taken from the variance. Intercept: median(y) − slope × median(x).
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
  if (n !== y.length) throw new RangeError(`x has ${n} values but y has ${y.length}`);
  if (n < 2) throw new RangeError('a line needs at least two points');
  const thinned = n > ALL_PAIRS_UP_TO;
  const xs = thinned ? evenStride(x, SUBSAMPLE) : x;
  const ys = thinned ? evenStride(y, SUBSAMPLE) : y;
  const slopes = pairSlopes(xs, ys);
  if (slopes.length === 0) throw new RangeError('a line needs at least two different x');

  const pairs = slopes.length;
  const middle = pairs >> 1;
  const upper = quickselect(slopes, middle, 0, pairs - 1);
  const slope = pairs % 2 === 1 ? upper : (upper + quickselect(slopes, middle - 1, 0, middle)) / 2;

  const m = xs.length;
  const independent = (m * (m - 1) * (2 * m + 5) - tieCorrection(xs) - tieCorrection(ys)) / 18;
  const variance = Math.max(0, independent) * (m / Math.min(m, Math.max(1, effectiveN)));
  const reach = normalQuantile((1 + confidence) / 2) * Math.sqrt(variance);
  const low = Math.max(roundHalfEven((pairs - reach) / 2) - 1, 0);
  const high = Math.min(roundHalfEven((pairs + reach) / 2), pairs - 1);
  return {
    slope,
    intercept: median(y) - slope * median(x),
    slopeLow: Math.min(slope, quickselect(slopes, low, 0, middle)),
    slopeHigh: Math.max(slope, quickselect(slopes, high, middle, pairs - 1)),
    n,
  };
}
