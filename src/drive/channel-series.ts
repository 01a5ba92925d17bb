import type { ChannelId } from '../channels/catalogue.ts';
import { oncePer } from '../kernel/once-per.ts';
import { interpolateAt } from '../signal/interpolate.ts';
import { bridgeableGapS } from './align.ts';
import type { Drive, Series } from './drive.ts';

/** Engine speed at the given times, rpm, lone slips mended; NaN where engine speed has no sample near. */
export function engineSpeedAt(drive: Drive, time: Float64Array): Float64Array {
  return speedsOf(drive)(time);
}

const speedsOf = oncePer((drive: Drive) => oncePer((time: Float64Array) => interpolatedSpeed(drive, time)));

function interpolatedSpeed(drive: Drive, time: Float64Array): Float64Array {
  const speed = drive.recording.channels.get('engine_speed');
  if (!speed) return new Float64Array(time.length).fill(Number.NaN);
  if (drive.time === time) return drive.engineSpeed;
  return interpolateAt(drive.time, drive.engineSpeed, time, bridgeableGapS(speed));
}

/** A channel over the whole log, on its own time base, with the engine speed at each sample. */
export function channelSeries(drive: Drive, id: ChannelId): Series | undefined {
  const channel = drive.recording.channels.get(id);
  if (!channel) return undefined;
  return {
    time: channel.time,
    values: channel.values,
    rpm: engineSpeedAt(drive, channel.time),
    rateHz: channel.rateHz,
  };
}
