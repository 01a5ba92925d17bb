import type { ChannelId } from '../channels/catalogue.ts';
import type { Channel, Recording } from '../channels/recording.ts';
import { oncePer } from '../kernel/once-per.ts';
import { holdAt, interpolateAt } from '../signal/interpolate.ts';

/** How far apart two samples of a channel may lie and still be joined by a line, s. */
export function bridgeableGapS(channel: Channel): number {
  return Number.isFinite(channel.rateHz) ? Math.max(1, 3 / channel.rateHz) : 1;
}

/** Channels whose values are states, not quantities: the last value holds, nothing lies between two values. */
const STATES: ReadonlySet<ChannelId> = new Set([
  'gear',
  'fuel_system_status',
  'malfunction_lamp',
  'trouble_code_count',
  'misfire_count',
]);

/** A channel's values at the given times: NaN where it has no sample near. */
export function alignedTo(channel: Channel, time: Float64Array): Float64Array {
  return channel.time === time ? channel.values : alignmentsOf(channel)(time);
}

const alignmentsOf = oncePer((channel: Channel) => oncePer((time: Float64Array) => align(channel, time)));

function align(channel: Channel, time: Float64Array): Float64Array {
  const gapS = bridgeableGapS(channel);
  return STATES.has(channel.id)
    ? holdAt(channel.time, channel.values, time, Math.max(gapS, 5))
    : interpolateAt(channel.time, channel.values, time, gapS);
}

/** The channel `id` at the given times, or nothing where it is not logged. */
export function alignedChannel(recording: Recording, id: ChannelId, time: Float64Array): Float64Array | undefined {
  const channel = recording.channels.get(id);
  return channel && alignedTo(channel, time);
}
