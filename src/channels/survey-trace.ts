import { largest, smallest } from '../signal/extremes.ts';
/** Stretches of a column's course. */
export const TRACE_POINTS = 32;

/**
 * The course of a column in equal stretches of the log: the mean of each, scaled from the lowest to the highest mean. A column that never
 * changes lies in the middle.
 * @param time seconds; left out, cells count as evenly spaced
 */
export function traceLine(
  time: Float64Array | undefined,
  values: Float64Array,
  points: number = TRACE_POINTS,
): (number | null)[] {
  if (values.length === 0) return new Array<null>(points).fill(null);
  const at = (i: number) => (time ? time[i] : i);
  const start = at(0);
  const span = at(values.length - 1) - start;
  const sums = new Float64Array(points);
  const counts = new Uint32Array(points);
  for (let i = 0, n = values.length; i < n; i++) {
    const place = span > 0 ? Math.floor(((at(i) - start) / span) * points) : 0;
    const bin = Math.min(points - 1, Math.max(0, place));
    sums[bin] += values[i];
    counts[bin]++;
  }
  const means = Array.from(sums, (sum, bin) => (counts[bin] > 0 ? sum / counts[bin] : null));
  const known = means.filter((mean) => mean !== null);
  const low = smallest(known);
  const high = largest(known);
  return means.map((mean) => (mean === null ? null : high > low ? (mean - low) / (high - low) : 0.5));
}
