/**
 * Lag-1 autocorrelation r1 = Σ (y_i − m)(y_(i+1) − m) / Σ (y_i − m)², as the NIST reference data sets define it.
 * NaN for a constant series: nothing varies, so nothing can be correlated.
 * @param values finite, in order of time
 * @returns −1…1
 * @throws RangeError if there are fewer than two values
 * @example lag1Autocorrelation([1, 3, 2]) // => -0.5
 */
export function lag1Autocorrelation(values: ArrayLike<number>): number {
  const n = values.length;
  if (n < 2) throw new RangeError('an autocorrelation needs at least two values');
  const origin = values[0];
  let sum = 0;
  for (let i = 0; i < n; i++) sum += values[i] - origin;
  const mean = origin + sum / n;
  let products = 0;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    const deviation = values[i] - mean;
    squares += deviation * deviation;
    if (i + 1 < n) products += deviation * (values[i + 1] - mean);
  }
  return products / squares;
}
