import { dampingRatioFromOvershoot } from './damping.ts';

/** A turning point of the response beyond the band, measured from the settled level. */
export interface Extremum {
  readonly index: number;
  readonly timeS: number;
  /** Signed distance from the settled level, in the unit of the signal. */
  readonly excess: number;
}

/** How a signal went from one level to another. Times count from the start of the step. */
export interface StepResponse {
  /** From 10 % to 90 % of the way, interpolated. */
  readonly riseTimeS: number | undefined;
  /** First reaching of the settled level, interpolated. */
  readonly reachedS: number | undefined;
  /** Largest excess of the first swing past the level; undefined where the level was never reached. */
  readonly peak: Extremum | undefined;
  /** Last instant outside the band, interpolated; undefined where the signal ends outside it. */
  readonly settlingTimeS: number | undefined;
  /** Turning points beyond the band on alternating sides, first swing past the level first. */
  readonly extrema: readonly Extremum[];
  /** Twice the mean time between successive extrema; undefined with fewer than two. */
  readonly periodS: number | undefined;
  /** Logarithmic decrement over successive extrema; negative where they grow; undefined with fewer than two. */
  readonly dampingRatio: number | undefined;
}

interface StepOptions {
  /** Index of the last sample before the step. */
  readonly start: number;
  /** Settled level at a sample; may slope. */
  readonly settledLevelAt: (index: number) => number;
  /** Distance from the level that counts as settled and below which a swing is noise. */
  readonly bandHalfWidth: number;
}

/** A swing that begins later than this many rise times after the level was reached is not the first rise's. */
const FIRST_SWING_WITHIN_RISES = 2;

function crossing(time: ArrayLike<number>, from: number, a: number, b: number): number {
  return time[from] + (a / (a - b)) * (time[from + 1] - time[from]);
}

/** Largest excess of the first swing: until it falls back through the level, or never leaves the band soon enough. */
function firstSwing(
  excess: Float64Array,
  time: ArrayLike<number>,
  start: number,
  reached: number,
  untilS: number,
  band: number,
) {
  let peak = reached;
  for (let i = reached, size = excess.length; i < size; i++) {
    const beyond = excess[peak] > band;
    if (beyond ? excess[i] <= 0 : time[start + i] > untilS) break;
    if (excess[i] > excess[peak]) peak = i;
  }
  return peak;
}

/** Extremes of alternating sides beyond the band, from `from` on; the first is on the far side of the step. */
function alternatingExtrema(excess: Float64Array, from: number, band: number): number[] {
  const found: number[] = [];
  let side = 0;
  for (let i = from, size = excess.length; i < size; i++) {
    if (Math.abs(excess[i]) <= band) continue;
    const sideNow = Math.sign(excess[i]);
    if (found.length === 0 && sideNow < 0) continue;
    if (sideNow !== side) found.push(i);
    else if (Math.abs(excess[i]) > Math.abs(excess[found[found.length - 1]])) found[found.length - 1] = i;
    side = sideNow;
  }
  return found;
}

/**
 * Rise time, first peak, settling time and oscillation of a response about its settled level.
 *
 * The way gone is measured as the share of the starting distance from the level that has vanished, which for a level
 * that does not slope is the usual definition. Settling counts from the step (control practice), not from the 50 %
 * crossing. An extremum still growing at the end of the data counts as it stands.
 * @param time seconds, strictly increasing
 * @param values finite, same length
 * @throws RangeError if lengths differ or `start` is not a sample
 * @example stepResponse([0, 1, 2, 3, 4], [0, 5, 12, 9, 10], { start: 0, settledLevelAt: () => 10, bandHalfWidth: 0.5 }).periodS // => 2
 */
export function stepResponse(time: ArrayLike<number>, values: ArrayLike<number>, options: StepOptions): StepResponse {
  const { start, settledLevelAt, bandHalfWidth: band } = options;
  const n = values.length;
  if (time.length !== n) throw new RangeError(`${time.length} times but ${n} values`);
  if (!(start >= 0 && start < n)) throw new RangeError(`the step cannot start at sample ${start} of ${n}`);
  const distance0 = settledLevelAt(start) - values[start];
  const direction = distance0 < 0 ? -1 : 1;
  const excess = Float64Array.from(
    { length: n - start },
    (_, k) => direction * (values[start + k] - settledLevelAt(start + k)),
  );

  const timeOfShare = (share: number): number | undefined => {
    const wanted = (share - 1) * Math.abs(distance0);
    for (let k = 1, size = excess.length; k < size; k++) {
      if (excess[k] >= wanted && excess[k - 1] < wanted) {
        return crossing(time, start + k - 1, excess[k - 1] - wanted, excess[k] - wanted) - time[start];
      }
    }
    return undefined;
  };
  const extremum = (k: number): Extremum => ({
    index: start + k,
    timeS: time[start + k] - time[start],
    excess: direction * excess[k],
  });

  const [tenth, ninetieth] = [timeOfShare(0.1), timeOfShare(0.9)];
  const riseTimeS = tenth !== undefined && ninetieth !== undefined ? ninetieth - tenth : undefined;
  const reached = excess.findIndex((e) => e >= 0);
  const reachedS = reached === 0 ? 0 : timeOfShare(1);
  const swingUntilS = time[start] + (reachedS ?? 0) + FIRST_SWING_WITHIN_RISES * (riseTimeS ?? Infinity);
  const peak = reached < 0 ? undefined : extremum(firstSwing(excess, time, start, reached, swingUntilS, band));

  const lastOutside = excess.findLastIndex((e) => Math.abs(e) > band);
  const settlingTimeS =
    lastOutside < 0
      ? 0
      : lastOutside === excess.length - 1
        ? undefined
        : crossing(
            time,
            start + lastOutside,
            Math.abs(excess[lastOutside]) - band,
            Math.sign(excess[lastOutside]) * excess[lastOutside + 1] - band,
          ) - time[start];

  const extrema = reached < 0 ? [] : alternatingExtrema(excess, reached, band).map(extremum);
  const halves = extrema.length - 1;
  const [first, last] = [extrema[0], extrema[halves]];
  return {
    riseTimeS,
    reachedS,
    peak,
    settlingTimeS,
    extrema,
    periodS: halves > 0 ? (2 * (last.timeS - first.timeS)) / halves : undefined,
    dampingRatio:
      halves > 0 ? dampingRatioFromOvershoot(Math.abs(last.excess / first.excess) ** (1 / halves)) : undefined,
  };
}
