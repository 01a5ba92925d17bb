/**
 * Slope of a series at each sample over a centred window, by least squares on the samples inside.
 * @param time s, strictly increasing, length n
 * @param values any unit, length n, may hold NaN
 * @param halfWindowS s; at least one neighbour each side is used even where it lies further away
 * @returns unit of `values` per second, NaN where fewer than two finite samples lie in the window. Cost O(n·w).
 */
export function rateOfChange(time: Float64Array, values: Float64Array, halfWindowS: number): Float64Array {
  const n = time.length;
  const slope = new Float64Array(n).fill(Number.NaN);
  // A hair more than asked, so that samples on the window's edge count on both sides alike.
  const reach = halfWindowS + 1e-9;
  let from = 0;
  let to = 0;
  for (let i = 0; i < n; i++) {
    while (time[from] < time[i] - reach) from++;
    while (to < n && time[to] <= time[i] + reach) to++;
    const start = Math.max(0, Math.min(from, i - 1));
    const end = Math.min(n, Math.max(to, i + 2));
    let count = 0;
    let sumT = 0;
    let sumV = 0;
    for (let j = start; j < end; j++) {
      if (Number.isNaN(values[j])) continue;
      count++;
      sumT += time[j] - time[i];
      sumV += values[j];
    }
    if (count < 2) continue;
    const meanT = sumT / count;
    const meanV = sumV / count;
    let tt = 0;
    let tv = 0;
    for (let j = start; j < end; j++) {
      if (Number.isNaN(values[j])) continue;
      const dt = time[j] - time[i] - meanT;
      tt += dt * dt;
      tv += dt * (values[j] - meanV);
    }
    if (tt > 0) slope[i] = tv / tt;
  }
  return slope;
}
