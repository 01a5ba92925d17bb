import { noiseLevel } from '../signal/noise-level.ts';
import type { Drive, Series } from './drive.ts';
import { indexAtOrAfter } from './pull-series.ts';

/**
 * Sample noise as one sigma; none for a number that mostly repeats itself, where the rare jumps are the signal and not noise.
 * @param values finite, in order of time
 * @returns in the unit of `values`; 0 for fewer than five
 */
export function sampleNoise(values: Float64Array): number {
  const n = values.length;
  if (n < 5) return 0;
  let repeats = 0;
  for (let i = 1; i < n; i++) if (values[i] === values[i - 1]) repeats++;
  return repeats > 0.5 * (n - 1) ? 0 : noiseLevel(values);
}

/** Sample noise inside the pulls, as one sigma; over the whole series where no pull holds five samples. */
export function noiseInPulls(drive: Drive, { time, values }: Pick<Series, 'time' | 'values'>): number {
  const parts = drive.pulls.map(({ startS, endS }) =>
    values.subarray(indexAtOrAfter(time, startS), indexAtOrAfter(time, endS + 1e-9)),
  );
  const count = parts.reduce((sum, part) => sum + part.length, 0);
  if (count < 5) return sampleNoise(values);
  const joined = new Float64Array(count);
  let at = 0;
  for (const part of parts) {
    joined.set(part, at);
    at += part.length;
  }
  return sampleNoise(joined);
}
