import { runningMedian } from '../../signal/local-level.ts';
import { type Run, runsWhere } from '../../signal/runs.ts';
import type { LambdaLag } from './lag.ts';

/** A mixture counts once it has lasted this long, s. */
export const HELD_S = 0.2;

/** The extreme of a signal that lasted, and where. */
export interface Held {
  readonly value: number;
  /** Index of the middle of the stretch that held it. */
  readonly index: number;
  /** Samples that held it. */
  readonly samples: number;
  /** Slower than the time to hold, one sample alone decides and no neighbour confirms it. */
  readonly isLone: boolean;
}

/** Unbroken stretches of judged samples, cut where the samples are further apart than `gapS`. */
function stretches(time: Float64Array, isJudged: (i: number) => boolean, gapS: number): Run[] {
  return runsWhere(time.length, isJudged).flatMap(({ start, end }) => {
    const parts: Run[] = [];
    let from = start;
    for (let i = start + 1; i <= end; i++) {
      if (i < end && time[i] - time[i - 1] <= gapS) continue;
      parts.push({ start: from, end: i });
      from = i;
    }
    return parts;
  });
}

/** Level of each judged sample that a stretch of `HELD_S` around it confirms; NaN elsewhere. */
export function heldLevels(
  time: Float64Array,
  values: Float64Array,
  isJudged: (i: number) => boolean,
  rateHz: number,
): Float64Array {
  const levels = new Float64Array(time.length).fill(Number.NaN);
  const periodS = 1 / rateHz;
  const isSlow = periodS >= HELD_S * (1 - 1e-9);
  for (const { start, end } of stretches(time, isJudged, Math.max(0.5, 2.5 * periodS))) {
    const cut = time.subarray(start, end);
    if (!isSlow && cut[cut.length - 1] - cut[0] < HELD_S - 1e-9) continue;
    const level = runningMedian(cut, values.subarray(start, end), 2 * HELD_S);
    for (let i = 0, n = cut.length; i < n; i++) {
      const toEdge = Math.min(cut[i] - cut[0], cut[cut.length - 1] - cut[i]);
      if (isSlow || toEdge >= HELD_S / 2 - 1e-9) levels[start + i] = level[i];
    }
  }
  return levels;
}

/** The highest held level (or the lowest, with `sign` −1); nothing where none was held. */
export function highestHeld(
  time: Float64Array,
  values: Float64Array,
  levels: Float64Array,
  rateHz: number,
  lone: number,
  sign: 1 | -1 = 1,
): Held | undefined {
  let top = -1;
  for (let i = 0, n = levels.length; i < n; i++) {
    if (Number.isFinite(levels[i]) && (top < 0 || sign * levels[i] > sign * levels[top])) top = i;
  }
  if (top < 0) return undefined;
  let samples = 0;
  for (let i = 0, n = time.length; i < n; i++) if (Math.abs(time[i] - time[top]) <= HELD_S + 1e-9) samples++;
  const confirms = (i: number) => Number.isFinite(levels[i]) && sign * (values[i] - lone) >= 0;
  const isLone = 1 / rateHz > HELD_S * (1 + 1e-9) && !confirms(top - 1) && !confirms(top + 1);
  return { value: levels[top], index: top, samples, isLone };
}

/** Shortest lean excursion of the given size that this log would have shown, s. */
export function shortestSeenS(rateHz: number, lag: LambdaLag, size: number, mark: number): number {
  const periodS = 1 / rateHz;
  const blurS = size > mark ? lag.tauS * Math.log(size / (size - mark)) : 0;
  return (periodS > HELD_S ? 2 * periodS : HELD_S + periodS) + blurS;
}
