import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { median } from '../../signal/median.ts';
import type { Drive } from '../drive.ts';
import { type Check, channelName } from './doubt.ts';
import { readingsIn } from './readings.ts';

/** Marks of a car that has stood until all is at one temperature, and of sensors that then do not agree. Common practice, no source. */
const COLD_C = 45;
const FIRST_S = 10;
const APART_K = 15;
const AGREES_K = 8;

function atFirst(channel: Channel | undefined): number | undefined {
  const early = channel && readingsIn(channel, { startS: channel.time[0], endS: FIRST_S });
  return early && early.length > 0 ? median(early) : undefined;
}

/** Intake and charge temperature before the first start of a cold engine, where coolant is the third witness. */
export function coldSoak(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const { channels } = drive.recording;
  const ids = ['intake_air_temperature', 'charge_air_temperature'] as const;
  if (ids.some(isSkipped) || isSkipped('coolant_temperature')) return { checked: [], doubts: [] };
  const [intake, charge] = ids.map((id) => atFirst(channels.get(id)));
  const coolant = atFirst(channels.get('coolant_temperature'));
  if (intake === undefined || charge === undefined || coolant === undefined || !(coolant < COLD_C)) {
    return { checked: [], doubts: [] };
  }
  const checked = ['intake and charge temperature of the cold engine'];
  if (Math.abs(intake - charge) <= APART_K) return { checked, doubts: [] };
  const agreeing = ids.filter((_, i) => Math.abs([intake, charge][i] - coolant) <= AGREES_K);
  const odd = agreeing.length === 1 ? ids.find((id) => id !== agreeing[0]) : undefined;
  const show = (value: number) => formatQuantity(value, 'degC');
  return {
    checked,
    doubts: [
      {
        gravity: odd ? 'warn' : 'tell',
        channels: odd ? [odd] : ids,
        short: odd
          ? `${channelName(odd)} disagrees in the cold engine`
          : 'intake and charge temperature differ in the cold engine',
        said: [
          `At the start of the log coolant is at ${show(coolant)}, intake air at ${show(intake)} and charge air at ${show(charge)}. In an engine that has cooled down they are alike${odd ? `; ${channelName(odd)} is the one that stands apart` : ', unless it was run or stood in the sun shortly before'}.`,
        ],
        where: [{ startS: 0, endS: Math.min(FIRST_S, drive.recording.durationS) }],
        measured: { value: Math.abs(intake - charge), unit: 'degC', mark: APART_K },
        next: odd ? ['Compare both sensors with a thermometer before a cold start.'] : [],
      },
    ],
  };
}
