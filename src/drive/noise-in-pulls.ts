import { sampleNoise } from '../signal/sample-noise.ts';
import type { Drive, Series } from './drive.ts';
import { indexAtOrAfter } from './pull-series.ts';

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
