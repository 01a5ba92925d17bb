import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel, Recording } from '../../channels/recording.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { noiseLevel } from '../../signal/noise-level.ts';
import { rateOfChange } from '../../signal/rate-of-change.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { levelAt } from './grid.ts';

/** Rates below which a trim has time to follow. Common practice, no source. */
const STEADY_RPM_PER_S = 130;
const STEADY_RPM_SHARE_PER_S = 0.05;
const STEADY_PER_S: readonly (readonly [ChannelId, number])[] = [
  ['absolute_load', 15],
  ['calculated_load', 15],
  ['manifold_pressure', 15],
  ['throttle_position', 8],
  ['accelerator_position', 10],
];
const HALF_WINDOW_S = 0.75;
/** Exhaust transport, sensor and controller need this long after a transient, s. Common practice, no source. */
const FOLLOWS_AFTER_S = 1.5;

/** How far noise alone moves the slope of a least-squares line over the window, per second. */
const slopeNoise = oncePer((channel: Channel): number => {
  if (channel.values.length < 10 || !Number.isFinite(channel.rateHz)) return 0;
  const samples = Math.max(3, 2 * HALF_WINDOW_S * channel.rateHz);
  const middle = channel.values.length >> 1;
  const part = channel.values.subarray(Math.max(0, middle - 250), middle + 250);
  return noiseLevel(part) / (Math.sqrt(samples) * HALF_WINDOW_S * 0.577);
});

/** Whether noise (three sigma, as much as is allowed at most) explains a rate beyond the allowed one. */
function noiseExplains(channel: Channel, perS: number, allowedPerS: number): boolean {
  return perS <= 2 * allowedPerS && perS <= allowedPerS + 3 * slopeNoise(channel);
}

/** Per grid time, 1 where engine speed and load have stayed put long enough for the trims to mean something. */
export function steadiness(recording: Recording, time: Float64Array, rpm: Float64Array): Uint8Array {
  const calm = new Uint8Array(time.length);
  const speed = recording.channels.get('engine_speed');
  if (!speed) return calm;
  const speedRate = rateOfChange(time, rpm, HALF_WINDOW_S);
  for (let i = 0, n = time.length; i < n; i++) {
    const perS = Math.abs(speedRate[i]);
    const allowed = Math.max(STEADY_RPM_PER_S, STEADY_RPM_SHARE_PER_S * rpm[i]);
    if (perS <= allowed || noiseExplains(speed, perS, allowed)) calm[i] = 1;
  }
  for (const [id, allowed] of STEADY_PER_S) {
    const channel = recording.channels.get(id);
    if (!channel || channel.max === channel.min) continue;
    const rate = rateOfChange(time, levelAt(channel, time), HALF_WINDOW_S, calm);
    for (let i = 0, n = time.length; i < n; i++) {
      const perS = Math.abs(rate[i]);
      if (perS > allowed && calm[i] === 1 && !noiseExplains(channel, perS, allowed)) calm[i] = 0;
    }
  }
  for (const { startS } of recording.segments.slice(1)) {
    for (let i = indexAtOrAfter(time, startS); time[i] < startS + FOLLOWS_AFTER_S; i++) calm[i] = 0;
  }
  return heldOff(time, calm, FOLLOWS_AFTER_S);
}

/** Clears the mask for `afterS` seconds after each time at which it is clear. */
export function heldOff(time: Float64Array, mask: Uint8Array, afterS: number): Uint8Array {
  const out = mask.slice();
  let clearS = Number.NEGATIVE_INFINITY;
  for (let i = 0, n = time.length; i < n; i++) {
    if (mask[i] === 0) clearS = time[i];
    else if (time[i] - clearS <= afterS) out[i] = 0;
  }
  return out;
}
