import { sampleNoise } from './sample-noise.ts';

/** A jump within one sample must at least be this quick to be no engine's doing: at low rates much can happen between samples. */
const FULL_RATE_HZ = 10;
const NOISE_MULTIPLE = 8;

/**
 * Lone samples far outside both neighbours: slips of sensor or logger, not of the engine.
 * @param values unit of choice, finite
 * @param rateHz true updates per second
 * @param floor same unit; a smaller departure is never a slip
 * @param cap same unit; the departure that is a slip even at a low rate
 * @returns indexes, ascending; never the first or the last. Cost O(n).
 */
export function loneSamples(values: Float64Array, rateHz: number, floor: number, cap: number): number[] {
  const n = values.length;
  if (n < 3) return [];
  const scaled = Math.min(cap, floor * Math.max(1, FULL_RATE_HZ / rateHz));
  const departure = (i: number) =>
    Math.max(values[i] - Math.max(values[i - 1], values[i + 1]), Math.min(values[i - 1], values[i + 1]) - values[i]);
  const found: number[] = [];
  let before = values[0];
  let now = values[1];
  for (let i = 1; i < n - 1; i++) {
    const after = values[i + 1];
    const up = now - before;
    if (up > scaled ? now - after > scaled : -up > scaled && after - now > scaled) found.push(i);
    before = now;
    now = after;
  }
  if (found.length === 0) return found;
  const noise = NOISE_MULTIPLE * sampleNoise(values);
  return found.filter((i) => departure(i) > noise);
}
