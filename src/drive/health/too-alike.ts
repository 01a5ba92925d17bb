import { median } from '../../signal/median.ts';

/** Indexes of a stretch, `to` inclusive. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Largest chance that a working signal repeats its value that often. */
const CHANCE = 1e-6;
const FEWEST_BESIDE = 8;
/** Departures beyond this many times the middle one are corners of the signal. */
const CORNER = 3;
/** White noise leaves its departures from the neighbours' line alternating (lag-1 autocorrelation −0.67); a bend does not. */
const ALTERNATING = -0.25;

/**
 * Standard deviation of the noise beside a stretch: the root mean square of the departures of each reading from the
 * straight line between its neighbours, over √1.5, the outer fifth left out. Undefined where there is too little, or
 * where the departures are bends of the signal and not noise. Rounding to a step alone gives step/√12.
 */
export function noiseBeside(time: Float64Array, values: Float64Array, { from, to }: Stretch): number | undefined {
  const off: number[] = [];
  let behindGap = -1;
  for (let i = 1; i + 1 < values.length; i++) {
    if (i + 1 >= from && i - 1 <= to) continue;
    if (i === to + 2) behindGap = off.length;
    const share = (time[i] - time[i - 1]) / (time[i + 1] - time[i - 1]);
    off.push(values[i] - (values[i - 1] + share * (values[i + 1] - values[i - 1])));
  }
  if (off.length < FEWEST_BESIDE) return undefined;
  const corner = CORNER * median(off.map(Math.abs));
  const clipped = (k: number) => Math.max(-corner, Math.min(corner, off[k]));
  let alike = 0;
  let all = 0;
  for (let k = 1, size = off.length; k < size; k++) {
    if (k === behindGap) continue;
    const both = clipped(k) * clipped(k - 1);
    alike += both;
    all += Math.abs(both);
  }
  // Where most readings lie on the line of their neighbours there is no noise to alternate.
  if (corner > 0 && (all === 0 || alike / all > ALTERNATING)) return undefined;
  const squares = off.map((departure) => departure ** 2).sort((a, b) => a - b);
  const kept = squares.slice(0, Math.ceil(0.8 * squares.length));
  return Math.sqrt(kept.reduce((sum, square) => sum + square, 0) / kept.length / 1.5);
}

/**
 * Chance that `n` successive readings of a level signal with Gaussian noise fall on one value:
 * (step / (2 √π σ))^(n − 1), the chance of two equal readings for each that follows the first.
 */
function chanceOfAlike(n: number, noise: number, step: number): number {
  const chance = step / (2 * Math.sqrt(Math.PI) * noise);
  return chance >= 1 ? 1 : chance ** (n - 1);
}

/**
 * Whether `updates` readings of one value on end are too many for a noise. One below the step tells nothing.
 * @param noise standard deviation
 * @param step smallest step between distinct values, 0 where unknown
 */
export function isTooMany(updates: number, value: number, noise: number, step: number): boolean {
  const least = Math.max(step, 1e-9 * Math.abs(value));
  return noise > least && chanceOfAlike(updates, noise, least) <= CHANCE;
}

/**
 * Whether a stretch of one unchanging value is too long for the noise beside it. A signal without noise, and one whose
 * noise is below its step, cannot be told this way.
 * @param step smallest step between distinct values, 0 where unknown
 */
export function isTooAlike(time: Float64Array, values: Float64Array, at: Stretch, step: number): boolean {
  const noise = noiseBeside(time, values, at);
  return noise !== undefined && isTooMany(at.to - at.from + 1, values[at.from], noise, step);
}
