/** Lets a gap that equals its limit pass in spite of rounding in the time column. */
const ROUNDING = 1 + 1e-9;

/**
 * Values at other instants by straight lines between samples. NaN before the first sample, after the last, and inside
 * a gap longer than `maxGapS`. Cost is linear where `at` ascends.
 * @param time seconds, strictly increasing
 * @param values finite, same length
 * @param at seconds
 * @param maxGapS longest distance between two samples to draw a line across
 * @throws RangeError if lengths differ
 * @example interpolateAt([0, 1, 5], [0, 10, 50], [0.5, 3, 5], 2) // => [5, NaN, 50]
 */
export function interpolateAt(
  time: ArrayLike<number>,
  values: ArrayLike<number>,
  at: ArrayLike<number>,
  maxGapS: number,
): Float64Array {
  if (time.length !== values.length) throw new RangeError(`${time.length} times but ${values.length} values`);
  if (time === at) return new Float64Array(values);
  const result = new Float64Array(at.length).fill(NaN);
  const last = time.length - 1;
  if (last < 0) return result;
  const longestGapS = maxGapS * ROUNDING;
  // The samples on either side of the instant, kept from one to the next: this runs for every sample of a log.
  let [i, before, after] = [0, time[0], last > 0 ? time[1] : Infinity];
  for (let k = 0, n = at.length; k < n; k++) {
    const instant = at[k];
    if (instant < before) {
      [i, before, after] = [0, time[0], last > 0 ? time[1] : Infinity];
      if (instant < before) continue;
    }
    while (i < last && after <= instant) {
      i++;
      before = after;
      after = i < last ? time[i + 1] : Infinity;
    }
    if (before === instant) {
      result[k] = values[i];
    } else if (i < last && after - before <= longestGapS) {
      result[k] = values[i] + ((instant - before) / (after - before)) * (values[i + 1] - values[i]);
    }
  }
  return result;
}

/**
 * The last value known at other instants, for channels that change in steps (gear, switches, commands). NaN before the
 * first sample and where the last one is older than `maxAgeS`.
 * @param time seconds, strictly increasing
 * @param values finite, same length
 * @param at seconds
 * @throws RangeError if lengths differ
 * @example holdAt([0, 1, 5], [1, 2, 3], [0.5, 3, 5.5], 1) // => [1, NaN, 3]
 */
export function holdAt(
  time: ArrayLike<number>,
  values: ArrayLike<number>,
  at: ArrayLike<number>,
  maxAgeS: number,
): Float64Array {
  if (time.length !== values.length) throw new RangeError(`${time.length} times but ${values.length} values`);
  if (time === at) return new Float64Array(values);
  const result = new Float64Array(at.length).fill(NaN);
  const last = time.length - 1;
  const oldestS = maxAgeS * ROUNDING;
  let i = 0;
  for (let k = 0, n = at.length; k < n; k++) {
    const instant = at[k];
    if (time[i] > instant) i = 0;
    while (i < last && time[i + 1] <= instant) i++;
    const age = instant - time[i];
    if (age >= 0 && age <= oldestS) result[k] = values[i];
  }
  return result;
}
