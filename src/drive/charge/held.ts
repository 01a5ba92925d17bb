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
 * @returns undefined where no stretch is that long. Cost O(n).
 */
export function heldMaximum(
  time: ArrayLike<number>,
  values: ArrayLike<number>,
  holdS: number,
  maxGapS: number,
): HeldMaximum | undefined {
  const n = time.length;
  const leastS = holdS * (1 - 1e-9);
  const gapS = maxGapS * (1 + 1e-9);
  // Indexes of low values in a window that moves forward: the first is the lowest of all, each next one the lowest behind it.
  const lowest = new Int32Array(n);
  let head = 0;
  let tail = 0;
  let best: HeldMaximum | undefined;
  let start = 0;
  let before = time[0];
  for (let end = 0; end < n; end++) {
    const now = time[end];
    const reading = values[end];
    const isAfterGap = now - before > gapS;
    before = now;
    if (isAfterGap) {
      start = end;
      head = tail = 0;
    }
    // No stretch with this reading in it holds more than one before did.
    if (best && reading <= best.value) {
      start = end + 1;
      head = tail = 0;
      continue;
    }
    while (tail > head && values[lowest[tail - 1]] >= reading) tail--;
    lowest[tail++] = end;
    while (start < end && now - time[start] >= leastS) {
      const value = values[lowest[head]];
      if (!best || value > best.value) best = { value, startS: time[start], endS: now, index: start };
      if (lowest[head] === start) head++;
      start++;
    }
  }
  return best;
}
