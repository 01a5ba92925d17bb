import { median } from '../signal/median.ts';
import { robustSpread } from '../signal/robust-spread.ts';
import { mendTime } from './mend-time.ts';

/** How sound a log's clock is. */
export interface TimeHealth {
  readonly durationS: number;
  /** Usual distance of neighbouring stamps. */
  readonly intervalS: number;
  /** Rows that carry the stamp of the row before. */
  readonly repeats: number;
  /** Steps back in time, and the largest. */
  readonly backward: number;
  readonly farthestBackS: number;
  /** Steps far beyond the usual one, and the largest. */
  readonly gaps: number;
  readonly longestGapS: number;
  /** Robust spread of the steps, as a share of the usual one. */
  readonly jitter: number;
  /** Stretches without a gap or a step back. */
  readonly stretches: number;
  readonly notes: readonly string[];
}

/** A gap is longer than this many usual steps and longer than a second, as where the log is mended. */
const GAP_STEPS = 10;
const GAP_LEAST_S = 1;

/**
 * Health of a clock from its stamps as they stand.
 * @param seconds finite, one per row; at least two of them different and rising
 */
export function timeHealth(seconds: Float64Array): TimeHealth {
  const forward: number[] = [];
  let repeats = 0;
  let backward = 0;
  let farthestBackS = 0;
  for (let i = 1, n = seconds.length; i < n; i++) {
    const step = seconds[i] - seconds[i - 1];
    if (step > 0) forward.push(step);
    else if (step === 0) repeats++;
    else {
      backward++;
      farthestBackS = Math.max(farthestBackS, -step);
    }
  }
  const intervalS = median(forward);
  const gapS = Math.max(GAP_LEAST_S, GAP_STEPS * intervalS);
  const gaps = forward.filter((step) => step > gapS);
  const { time, segments, notes } = mendTime(seconds);
  return {
    durationS: time[time.length - 1] - time[0],
    intervalS,
    repeats,
    backward,
    farthestBackS,
    gaps: gaps.length,
    longestGapS: gaps.reduce((most, step) => Math.max(most, step), 0),
    jitter: forward.length > 1 ? robustSpread(forward) / intervalS : 0,
    stretches: segments.length,
    notes,
  };
}
