import { largest } from '../../signal/extremes.ts';
import { pullBoost } from '../boost/gauge-boost.ts';
import { channelSeries } from '../channel-series.ts';
import type { Drive, Pull } from '../drive.ts';
import { noiseInPulls } from '../noise-in-pulls.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import type { RetardTrack } from './tracks.ts';

/** A drop of advance this sudden and large is an intervention. Common practice, no source. */
export const SUDDEN_DROP_DEG = 3;
/** Once boost has settled a table falls no faster than this, deg per s. Common practice, no source. */
const STEEPEST_TABLE_DEG_PER_S = 4;
/** Slower logs cannot tell a drop from the slope of the table. */
export const DROP_NEEDS_HZ = 5;
const LOADED_SHARE = 0.9;
const UNKNOWN_LOAD_SKIPS = 0.35;

/** When the load of a pull has come up, so that advance follows engine speed alone. */
function loadedFromS(drive: Drive, pull: Pull): number {
  const boost = pullBoost(drive, pull);
  if (!boost || boost.values.length < 3) return pull.startS + UNKNOWN_LOAD_SKIPS * (pull.endS - pull.startS);
  const barometric = drive.recording.barometric.kpa;
  const highest = largest(boost.values) + barometric;
  const reached = boost.values.findIndex((kpa) => kpa + barometric >= LOADED_SHARE * highest);
  return boost.time[Math.max(0, reached)] + 0.3;
}

/**
 * Without a retard channel or a target: how far advance lies below a level that follows it up at once, and down no faster than a table would.
 * Zero outside the loaded part of the pulls.
 */
export function advanceDropTrack(drive: Drive): RetardTrack | undefined {
  const advance = channelSeries(drive, 'spark_advance');
  const channel = drive.recording.channels.get('spark_advance');
  if (!advance || !channel || !(advance.rateHz >= DROP_NEEDS_HZ)) return undefined;
  const { time, values } = advance;
  const below = new Float64Array(time.length);
  for (const pull of drive.pulls) {
    const from = indexAtOrAfter(time, loadedFromS(drive, pull));
    let expected = values[from];
    for (let i = from + 1; i < time.length && time[i] <= pull.endS + 1e-9; i++) {
      expected = Math.max(values[i], expected - STEEPEST_TABLE_DEG_PER_S * (time[i] - time[i - 1]));
      below[i] = expected - values[i];
    }
  }
  const noise = noiseInPulls(drive, advance);
  const noiseDeg = noise > 0.5 * channel.step ? noise : 0;
  return {
    ...advance,
    values: below,
    basis: 'advance-drop',
    cylinder: undefined,
    label: 'the engine',
    restDeg: 0,
    stepDeg: channel.step,
    noiseDeg,
    thresholdDeg: Math.max(SUDDEN_DROP_DEG - 0.5, 5 * noiseDeg),
  };
}
