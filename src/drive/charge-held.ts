/** The highest level that a slow signal held, and where. */
export interface HeldMaximum {
  readonly value: number;
  readonly startS: number;
  readonly endS: number;
  /** Index of the first sample of that stretch. */
  readonly index: number;
}

/**
 * Highest level held for `holdS`: over all stretches that long (and of two samples at least), the largest of their lowest
 * values. A reading alone, however high, does not count, nor does a stretch across a gap longer than `maxGapS`.
 * @param time s, strictly increasing
 * @param values finite, same length
 * @returns undefined where no stretch is that long. Cost O(n w), w samples in `holdS`.
 */
export function heldMaximum(
  time: ArrayLike<number>,
  values: ArrayLike<number>,
  holdS: number,
  maxGapS: number,
): HeldMaximum | undefined {
  let best: HeldMaximum | undefined;
  for (let i = 0; i < time.length; i++) {
    let lowest = values[i];
    for (let j = i + 1; j < time.length && time[j] - time[j - 1] <= maxGapS * (1 + 1e-9); j++) {
      lowest = Math.min(lowest, values[j]);
      if (best && lowest <= best.value) break;
      if (time[j] - time[i] < holdS * (1 - 1e-9)) continue;
      best = { value: lowest, startS: time[i], endS: time[j], index: i };
      break;
    }
  }
  return best;
}
