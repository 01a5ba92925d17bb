import { largest, smallest } from '../../signal/extremes.ts';
import { leastSquares } from '../../signal/least-squares.ts';

/** The top of an excursion, with the noise's share taken off. */
export interface BoostPeak {
  readonly index: number;
  readonly timeS: number;
  readonly heightKpa: number;
  readonly lowKpa: number;
  readonly highKpa: number;
}

/** Half width of the parabola laid over a top, s: short against any real boost peak, long against noise at high rates. */
const TOP_HALF_S = 0.06;
/** Samples further apart than this do not draw the shape of a top: a parabola over the knee of a rise would invent one, s (4 Hz). */
const SHAPE_WITHIN_S = 0.26;

/**
 * Expected largest of `n` normal deviates, in standard deviations: 0 for one, 0.56 for two, 1.54 for ten, 2.25 for
 * fifty (tables of normal order statistics), as 0.56·(log₂ n)^0.85.
 */
export function expectedLargest(n: number): number {
  return n <= 1 ? 0 : 0.56 * Math.log2(n) ** 0.85;
}

/** Least-squares parabola through (x, y), x in seconds about 0: its vertex where it lies inside the data, else its value at 0. */
function parabolaTop(x: readonly number[], y: readonly number[]): { x: number; y: number } {
  const reach = largest(x.map(Math.abs));
  const u = x.map((seconds) => seconds / reach);
  const fit = leastSquares([u.map(() => 1), u, u.map((v) => v * v)], y);
  if (!fit) return { x: 0, y: largest(y) };
  const [a, b, c] = fit.coefficients;
  const vertex = c < 0 ? -b / (2 * c) : 0;
  const inside = vertex >= smallest(u) && vertex <= largest(u) ? vertex : 0;
  return { x: inside * reach, y: a + b * inside + c * inside * inside };
}

/**
 * The top of `values` between two samples (`to` exclusive). A parabola over ±0.06 s (three samples at least) finds a top between samples
 * without flattening it, where the samples are dense enough to show its shape; the largest of many noisy samples is lowered by what noise adds on average. The interval
 * holds noise and what may hide between samples.
 */
export function robustPeak(
  time: Float64Array,
  values: Float64Array,
  from: number,
  to: number,
  noiseKpa: number,
): BoostPeak {
  let top = from;
  for (let i = from; i < to; i++) if (values[i] > values[top]) top = i;
  let left = top;
  let right = top;
  while (left > 0 && values[left - 1] > values[top] - 2 * noiseKpa) left--;
  while (right < values.length - 1 && values[right + 1] > values[top] - 2 * noiseKpa) right++;
  const bias = expectedLargest(right - left + 1) * noiseKpa;
  let first = Math.max(0, top - 1);
  let last = Math.min(values.length - 1, top + 1);
  while (first > 0 && time[top] - time[first - 1] <= TOP_HALF_S) first--;
  while (last < values.length - 1 && time[last + 1] - time[top] <= TOP_HALF_S) last++;
  const count = last - first + 1;
  const x = Array.from({ length: count }, (_, i) => time[first + i] - time[top]);
  const y = Array.from({ length: count }, (_, i) => values[first + i]);
  const isDrawn = count >= 3 && time[last] - time[first] <= 2 * SHAPE_WITHIN_S;
  const fitted = isDrawn ? parabolaTop(x, y) : { x: 0, y: values[top] };
  const smooth = count >= 5 ? fitted.y - 0.3 * bias : Math.max(fitted.y, values[top]) - bias;
  const heightKpa = Math.max(smooth, values[top] - bias - 0.5 * noiseKpa);
  const between =
    top > 0 && top < values.length - 1 ? Math.max(0, 2 * values[top] - values[top - 1] - values[top + 1]) / 8 : 0;
  const noiseHalf = 1.96 * noiseKpa * Math.sqrt(Math.min(1, 2.5 / count));
  return {
    index: top,
    timeS: time[top] + fitted.x,
    heightKpa,
    lowKpa: heightKpa - noiseHalf,
    highKpa: heightKpa + noiseHalf + between,
  };
}
