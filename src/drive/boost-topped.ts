import type { Drive, Pull } from './drive.ts';
import { indexAtOrAfter } from './pull-series.ts';

/** Largest pressure a one-byte channel can carry, kPa absolute (SAE J1979, manifold absolute pressure). */
const ONE_BYTE_KPA = 255;
/** Lying dead flat at its highest value for so long is a sensor's top, s and samples. */
const FLAT_S = 0.6;
const FLAT_SAMPLES = 10;
/** In a channel of coarse steps a quiet signal lies flat by chance: more samples are asked for. */
const COARSE_STEP_KPA = 0.4;
const COARSE_FLAT_SAMPLES = 24;

/** The flat part has to make up this much of the time between first and last touching the top. */
const MOSTLY = 0.5;

/** Longest unbroken run of one value, as seconds and samples. */
function longestRun(time: Float64Array, values: Float64Array, isTop: (value: number) => boolean) {
  let longest = { seconds: 0, samples: 0 };
  for (let i = 0; i < values.length; i++) {
    if (!isTop(values[i])) continue;
    let to = i;
    while (to + 1 < values.length && isTop(values[to + 1])) to++;
    if (to - i + 1 > longest.samples) longest = { seconds: time[to] - time[i], samples: to - i + 1 };
    i = to;
  }
  return longest;
}

/** Noise from the mean of second differences, kPa: mean |y[i−1] − 2y[i] + y[i+1]| / (√6·√(2/π)); rounding does not upset a mean. */
function meanNoise(values: Float64Array): number {
  let sum = 0;
  for (let i = 1; i < values.length - 1; i++) sum += Math.abs(values[i - 1] - 2 * values[i] + values[i + 1]);
  return sum / (values.length - 2) / Math.sqrt(12 / Math.PI);
}

/**
 * The pressure, kPa absolute, at which the manifold channel was at the end of what it can show in this pull, if it
 * was: lying at 255 kPa (one byte), or dead flat at the log's highest value while it is noisy elsewhere.
 */
export function toppedOutAt(drive: Drive, pull: Pull): number | undefined {
  const manifold = drive.recording.channels.get('manifold_pressure');
  if (!manifold) return undefined;
  const from = indexAtOrAfter(manifold.time, pull.startS - 1e-9);
  const to = indexAtOrAfter(manifold.time, pull.endS + 1e-9);
  const time = manifold.time.subarray(from, to);
  const values = manifold.values.subarray(from, to);
  if (values.length < 3) return undefined;
  if (Math.abs(manifold.max - ONE_BYTE_KPA) < 0.3) {
    const run = longestRun(time, values, (value) => Math.abs(value - ONE_BYTE_KPA) < 0.3);
    if (run.samples >= 3 || (run.samples >= 2 && run.seconds >= 0.2)) return manifold.max;
  }
  const run = longestRun(time, values, (value) => value === manifold.max);
  if (run.seconds < FLAT_S || run.samples < (manifold.step > COARSE_STEP_KPA ? COARSE_FLAT_SAMPLES : FLAT_SAMPLES))
    return undefined;
  const span = values.lastIndexOf(manifold.max) - values.indexOf(manifold.max) + 1;
  if (run.samples < MOSTLY * span) return undefined;
  const rest = values.filter((value) => value !== manifold.max);
  const lively = rest.length >= 8 && meanNoise(rest) > Math.max(0.15, 0.8 * manifold.step);
  return lively ? manifold.max : undefined;
}
