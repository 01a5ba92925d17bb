import { isAirPressure } from '../channels/barometric.ts';
import type { Channel } from '../channels/recording.ts';
import { oncePer } from '../kernel/once-per.ts';
import { interpolateAt } from '../signal/interpolate.ts';
import { alignedTo, bridgeableGapS } from './align.ts';
import type { Drive } from './drive.ts';

/** Readings of the channel that can be air pressure, each on its own time. */
const believable = oncePer((channel: Channel): Pick<Channel, 'time' | 'values'> => {
  if (isAirPressure(channel.min) && isAirPressure(channel.max)) return channel;
  const isKept = (_: number, i: number) => isAirPressure(channel.values[i]);
  return { time: channel.time.filter(isKept), values: channel.values.filter(isKept) };
});

/**
 * Pressure of the outside air at the given times, kPa absolute: the logged channel where the log's air pressure is taken
 * from it (readings that cannot be are left out), else and where it has no reading near, the one level of the log. Not to be written to.
 */
export function outsideAirAt(drive: Drive, time: Float64Array): Float64Array {
  const { barometric, channels } = drive.recording;
  const channel = channels.get('barometric_pressure');
  if (!channel || barometric.source !== 'channel') return new Float64Array(time.length).fill(barometric.kpa);
  const kept = believable(channel);
  const known =
    kept === channel ? alignedTo(channel, time) : interpolateAt(kept.time, kept.values, time, bridgeableGapS(channel));
  if (!known.includes(Number.NaN)) return known;
  const air = known.slice();
  for (let i = 0, n = air.length; i < n; i++) if (Number.isNaN(air[i])) air[i] = barometric.kpa;
  return air;
}
