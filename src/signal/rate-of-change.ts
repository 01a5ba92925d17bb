/**
 * Slope of a series at each sample over a centred window, by least squares on the samples inside.
 * @param time s, strictly increasing, length n
 * @param values any unit, length n, may hold NaN
 * @param halfWindowS s; at least one neighbour each side is used even where it lies further away
 * @param wanted 1 for each sample that is asked for; all of them where left out
 * @returns unit of `values` per second, NaN where fewer than two finite samples lie in the window, and where not wanted. Cost O(n·w).
 */
export function rateOfChange(
  time: Float64Array,
  values: Float64Array,
  halfWindowS: number,
  wanted?: Uint8Array,
): Float64Array {
  const n = time.length;
  const slope = new Float64Array(n).fill(Number.NaN);
  const gappy = values.includes(Number.NaN);
  // A hair more than asked, so that samples on the window's edge count on both sides alike.
  const reach = halfWindowS + 1e-9;
  let from = 0;
  let to = 0;
  for (let i = 0; i < n; i++) {
    if (wanted && wanted[i] === 0) continue;
    const now = time[i];
    while (time[from] < now - reach) from++;
    while (to < n && time[to] <= now + reach) to++;
    const start = from < i || i === 0 ? from : i - 1;
    const end = to > i + 1 || i === n - 1 ? to : i + 2;
    slope[i] = slopeAround(time, values, start, end, now, gappy);
  }
  return slope;
}

/**
 * Least-squares slope of the samples from `start` up to `end` (exclusive), times counted from `nowS` and values from the first, which keeps the sums small; NaN where it has none. Only
 * where values may be missing (`gappy`) are they asked one by one: this runs for every sample of a log.
 */
function slopeAround(
  time: Float64Array,
  values: Float64Array,
  start: number,
  end: number,
  nowS: number,
  gappy: boolean,
): number {
  const level = gappy ? 0 : values[start];
  let count = 0;
  let sumT = 0;
  let sumV = 0;
  let sumTT = 0;
  let sumTV = 0;
  for (let j = start; j < end; j++) {
    const value = values[j] - level;
    if (gappy && Number.isNaN(value)) continue;
    const dt = time[j] - nowS;
    count++;
    sumT += dt;
    sumV += value;
    sumTT += dt * dt;
    sumTV += dt * value;
  }
  if (count < 2) return Number.NaN;
  const tt = sumTT - (sumT * sumT) / count;
  return tt > 0 ? (sumTV - (sumT * sumV) / count) / tt : Number.NaN;
}
