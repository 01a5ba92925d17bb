import { type ChannelId, channelEntry } from '../channels/catalogue.ts';
import type { Channel } from '../channels/recording.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { median } from '../signal/median.ts';
import type { Drive } from './drive.ts';
import { type Check, channelName, type Doubt, sentence } from './health-doubt.ts';

/**
 * A lone reading that leaves both its neighbours by `step` and comes back within `withinS`, which the quantity itself
 * cannot do. Common practice, no source.
 */
const IMPOSSIBLE: Partial<Record<ChannelId, { readonly step: number; readonly withinS: number }>> = {
  engine_speed: { step: 1500, withinS: 0.25 },
  vehicle_speed: { step: 40, withinS: 1 },
  manifold_pressure: { step: 80, withinS: 0.06 },
  barometric_pressure: { step: 5, withinS: 5 },
  coolant_temperature: { step: 15, withinS: 3 },
  oil_temperature: { step: 15, withinS: 3 },
  intake_air_temperature: { step: 25, withinS: 2 },
  charge_air_temperature: { step: 40, withinS: 0.5 },
  battery_voltage: { step: 4, withinS: 0.25 },
  ethanol_content: { step: 20, withinS: 1 },
  injector_pulse_width: { step: 8, withinS: 0.06 },
};
/** A few lone slips are the logger's; more are the sensor's or its wiring's. */
const WARN_COUNT = 5;
/** Neighbours that differ by more than this share of the jump are a real movement, not a slip. */
const COMES_BACK_SHARE = 0.3;

/** Index of every reading that jumps away from both neighbours and back, in no time that the quantity could need. */
export function impossibleJumps(channel: Channel): number[] {
  const rule = IMPOSSIBLE[channel.id];
  if (!rule) return [];
  const { time, values, min, max } = channel;
  const found: number[] = [];
  if (max - min < rule.step) return found;
  for (let i = 1; i + 1 < values.length; i++) {
    const there = values[i] - values[i - 1];
    if (there < rule.step && there > -rule.step) continue;
    if (time[i + 1] - time[i] > rule.withinS || time[i] - time[i - 1] > rule.withinS) continue;
    const back = values[i] - values[i + 1];
    const smaller = Math.min(Math.abs(there), Math.abs(back));
    if (there * back > 0 && smaller >= rule.step && Math.abs(there - back) <= COMES_BACK_SHARE * smaller) found.push(i);
  }
  return found;
}

function jumpDoubt(channel: Channel): Doubt | undefined {
  const found = impossibleJumps(channel);
  if (found.length === 0) return undefined;
  const { unit } = channelEntry(channel.id);
  const sizes = found.map((i) => Math.abs(channel.values[i] - channel.values[i - 1]));
  const many = found.length >= WARN_COUNT;
  const name = channelName(channel.id);
  return {
    gravity: many ? 'warn' : 'tell',
    channels: [channel.id],
    short: `${name} jumps as it cannot`,
    said: [
      sentence(
        `${name} left its neighbours and came back within one reading ${found.length === 1 ? 'once' : `${found.length} times`}, by ${formatQuantity(median(sizes), unit)}${found.length > 1 ? ' in the middle' : ''}; the quantity cannot move like that.${many ? '' : ' So few are the logger, not the sensor.'}`,
      ),
    ],
    where: found.slice(0, 20).map((i) => ({ startS: channel.time[i - 1], endS: channel.time[i + 1] })),
    measured: { value: found.length, unit: 'count', mark: WARN_COUNT },
    next: [`Check the plug, earth and supply of the sensor for ${name}: a loose contact jumps like that.`],
  };
}

/** Movements that the quantity itself cannot make. */
export function jumpingChannels(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const channels = [...drive.recording.channels.values()].filter(({ id }) => IMPOSSIBLE[id] && !isSkipped(id));
  return {
    checked: channels.map(({ id }) => channelName(id)),
    doubts: channels.map(jumpDoubt).filter((doubt) => doubt !== undefined),
  };
}
