import { noiseLevel } from './noise-level.ts';

/**
 * Sample noise as one sigma; none for a number that mostly repeats itself, where the rare jumps are the signal and not noise.
 * @param values finite, in order of time
 * @returns in the unit of `values`; 0 for fewer than five
 */
export function sampleNoise(values: Float64Array): number {
  const n = values.length;
  if (n < 5) return 0;
  let repeats = 0;
  let before = values[0];
  for (let i = 1; i < n; i++) {
    const value = values[i];
    if (value === before) repeats++;
    before = value;
  }
  return repeats > 0.5 * (n - 1) ? 0 : noiseLevel(values);
}
