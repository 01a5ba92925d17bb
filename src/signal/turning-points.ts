/** One monotonic-but-for-noise stretch between two turning points (indexes inclusive). */
export interface Leg {
  readonly start: number;
  readonly end: number;
  readonly rising: boolean;
}

/**
 * Splits a series into rising and falling legs, ignoring reversals smaller than `reversal`.
 * @param values unit of choice, finite, indexes `from`…`to` inclusive are read
 * @param reversal same unit; a turn counts once the series has come back by at least this much
 * @returns legs in order, sharing their end points; a stretch that never moves by `reversal` gives no leg. Cost O(n).
 */
export function turningPointLegs(values: ArrayLike<number>, from: number, to: number, reversal: number): Leg[] {
  const legs: Leg[] = [];
  let low = from;
  let high = from;
  let start = from;
  let direction = 0;
  let lowest = values[from];
  let highest = values[from];
  for (let i = from + 1; i <= to; i++) {
    const value = values[i];
    if (direction >= 0 && value > highest) {
      high = i;
      highest = value;
    }
    if (direction <= 0 && value <= lowest) {
      low = i;
      lowest = value;
    }
    if (direction <= 0 && value - lowest >= reversal) {
      if (direction < 0) legs.push({ start, end: low, rising: false });
      start = low;
      high = i;
      highest = value;
      direction = 1;
    } else if (direction >= 0 && highest - value >= reversal) {
      if (direction > 0) legs.push({ start, end: high, rising: true });
      start = high;
      low = i;
      lowest = value;
      direction = -1;
    }
  }
  if (direction > 0) legs.push({ start, end: high, rising: true });
  if (direction < 0) legs.push({ start, end: low, rising: false });
  return legs;
}
