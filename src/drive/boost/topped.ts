import type { Channel } from '../../channels/recording.ts';
import { median } from '../../signal/median.ts';
import { longestAt } from '../health/saturation.ts';
import { isTooAlike, type Stretch } from '../health/too-alike.ts';
import { indexAtOrAfter } from '../pull-series.ts';

/** Largest pressure a one-byte channel can carry, kPa absolute (SAE J1979, manifold absolute pressure). */
const ONE_BYTE_KPA = 255;
/** Lying dead flat at its highest value for so long is a sensor's top, s and samples. */
const FLAT_S = 0.6;
const FLAT_SAMPLES = 10;

/** The flat part has to make up this much of the time between first and last touching the top. */
const MOSTLY = 0.5;

/** Less noise than this on a rise is rounding, or uneven instants of sampling, kPa. */
const LEAST_NOISE_KPA = 0.15;

/** Readings within this of the top tell the noise there; a rise farther off has bends and uneven instants in it, kPa. */
const NEAR_KPA = 10;

/** Whether the run is too alike for the noise of the readings near the top around it. */
function isTooQuiet(time: Float64Array, values: Float64Array, at: Stretch, step: number): boolean {
  const top = values[at.from];
  let { from, to } = at;
  while (from > 0 && top - values[from - 1] <= NEAR_KPA) from--;
  while (to + 1 < values.length && top - values[to + 1] <= NEAR_KPA) to++;
  const near = { from: at.from - from, to: at.to - from };
  return isTooAlike(time.subarray(from, to + 1), values.subarray(from, to + 1), near, step);
}

/** The rise into the top is watched over so long, and its last part apart, s. */
const RISE_S = 1;
const ARRIVAL_S = 0.2;
/** Boost that settles comes in by a step or two of the channel at last; a rise beyond these many steps, times its noise, and kPa, is cut off. Common practice, no source. */
const CUT = { steps: 5, noises: 3, kpa: 3 } as const;
const FEWEST_DIFFERENCES = 5;

/** Whether the rise runs into the top at speed, with noise on it that is gone at the top. */
function isCutOff(time: Float64Array, values: Float64Array, from: number, step: number): boolean {
  const first = Math.max(0, indexAtOrAfter(time, time[from] - RISE_S));
  // Third differences leave slope and bend out; of white noise they have √20 of its standard deviation, and 0.6745 of that as median size.
  const thirds: number[] = [];
  for (let i = first + 3; i < from; i++)
    thirds.push(Math.abs(values[i] - 3 * values[i - 1] + 3 * values[i - 2] - values[i - 3]));
  if (thirds.length < FEWEST_DIFFERENCES) return false;
  const noise = median(thirds) / (0.6745 * Math.sqrt(20));
  if (noise <= Math.max(step, LEAST_NOISE_KPA)) return false;
  let k = from - 1;
  while (k > first && time[from] - time[k] < ARRIVAL_S) k--;
  return values[from] - values[k] >= Math.max(CUT.kpa, CUT.steps * step, CUT.noises * noise);
}

/**
 * The stretch of a pull in which manifold pressure was at the end of what the channel can show: lying at 255 kPa (one byte), or dead flat
 * at the log's highest value for longer than its own noise beside that allows. A quiet channel lies flat by itself where its noise is below its
 * step: that says nothing.
 * @param time s, of the pull
 * @param values kPa absolute, same length
 */
export function flatTop(
  time: Float64Array,
  values: Float64Array,
  { max, step }: Pick<Channel, 'max' | 'step'>,
): Stretch | undefined {
  if (values.length < 3) return undefined;
  if (Math.abs(max - ONE_BYTE_KPA) < 0.3) {
    const at = longestAt(values, (value) => Math.abs(value - ONE_BYTE_KPA) < 0.3);
    if (at && (lengthOf(at) >= 3 || (lengthOf(at) >= 2 && time[at.to] - time[at.from] >= 0.2))) return at;
  }
  const at = longestAt(values, (value) => value === max);
  if (!at || time[at.to] - time[at.from] < FLAT_S || lengthOf(at) < FLAT_SAMPLES) return undefined;
  const span = values.lastIndexOf(max) - values.indexOf(max) + 1;
  if (lengthOf(at) < MOSTLY * span) return undefined;
  return isTooQuiet(time, values, at, step) || isCutOff(time, values, at.from, step) ? at : undefined;
}

const lengthOf = ({ from, to }: Stretch): number => to - from + 1;
