import { type ChannelId, channelEntry } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { largest } from '../../signal/extremes.ts';
import { median } from '../../signal/median.ts';
import { cleanTemperature } from '../charge/clean.ts';
import type { Drive, Pull } from '../drive.ts';
import { IMPOSSIBLE_SPEED } from '../engine-speed-slips.ts';
import { type Away, outAndBack, type Reach } from '../out-and-back.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { type Check, channelName, type Doubt, type Span, secondsOf, sentence } from './doubt.ts';

interface Rule extends Reach {
  /**
   * Where it counts: a gear change empties the airflow meter, a cranking starter pulls the supply down, a locked wheel
   * stands, all within half a second, and none of them in a pull.
   */
  readonly where?: 'pulls' | 'several readings in pulls only';
}

/** What a quantity cannot do. A throttle may empty a manifold and a limiter cut the injectors for several readings. Common practice, no source. */
const IMPOSSIBLE: Partial<Record<ChannelId, Rule>> = {
  engine_speed: IMPOSSIBLE_SPEED,
  vehicle_speed: { step: 40, edgeS: 1, longestS: 0.5, perS: 200, where: 'several readings in pulls only' },
  manifold_pressure: { step: 80, edgeS: 0.06, longestS: 0 },
  barometric_pressure: { step: 5, edgeS: 5, longestS: 5 },
  coolant_temperature: { step: 15, edgeS: 3, longestS: 10, perS: 10 },
  oil_temperature: { step: 15, edgeS: 3, longestS: 10, perS: 10 },
  intake_air_temperature: { step: 25, edgeS: 2, longestS: 2, perS: 80 },
  charge_air_temperature: { step: 40, edgeS: 0.5, longestS: 2, perS: 80 },
  battery_voltage: { step: 4, edgeS: 0.25, longestS: 0.5, perS: 16, where: 'several readings in pulls only' },
  ethanol_content: { step: 20, edgeS: 1, longestS: 2, perS: 20 },
  injector_pulse_width: { step: 8, edgeS: 0.06, longestS: 0 },
  mass_air_flow: { step: 60, share: 0.6, edgeS: 0.12, longestS: 0.5, perS: 600, where: 'pulls' },
  fuel_rail_pressure: { step: 100, share: 0.85, edgeS: 0.25, longestS: 0.5, perS: 400, where: 'pulls' },
};
/** A few lone slips are the logger's; more are the sensor's or its wiring's. */
const WARN_COUNT = 5;
/** Away for so long, s and readings, in a pull, it is no slip of the logger. */
const CONTACT_S = 0.1;
const CONTACT_READINGS = 3;

const lies = ({ startS, endS }: Span, pulls: readonly Pull[]) =>
  pulls.some((pull) => startS >= pull.startS - 1e-9 && endS <= pull.endS + 1e-9);

const spanOf = ({ time }: Channel, { from, to }: Away): Span => ({ startS: time[from], endS: time[to] });

/** What the temperature questions leave out as jumps, where it is not among `known`. */
function temperatureJumps(drive: Drive, channel: Channel, step: number, known: readonly Away[]): Away[] {
  const { id, time, values } = channel;
  if (!id.endsWith('_temperature')) return [];
  const found: Away[] = [];
  for (const { startS, endS } of cleanTemperature(drive, id, step)?.jumps ?? []) {
    const from = indexAtOrAfter(time, startS);
    const to = indexAtOrAfter(time, endS);
    if (known.some((other) => other.from <= to && other.to >= from)) continue;
    found.push({ from, to, size: Math.abs(values[from] - values[Math.max(0, from - 1)]) });
  }
  return found;
}

const jumpsOf = oncePer((drive: Drive) =>
  oncePer((channel: Channel): readonly Away[] => {
    const rule = IMPOSSIBLE[channel.id];
    if (!rule || channel.max - channel.min < rule.step) return [];
    const { where } = rule;
    if (where === 'pulls' && drive.pulls.length === 0) return [];
    const found = outAndBack(channel.time, channel.values, rule).filter(
      (away) =>
        where === undefined || (where !== 'pulls' && away.from === away.to) || lies(spanOf(channel, away), drive.pulls),
    );
    return [...found, ...temperatureJumps(drive, channel, rule.step, found)].sort((a, b) => a.from - b.from);
  }),
);

/** Stretches in which a channel moves away and back as the quantity cannot, in order of time. */
export function impossibleJumps(drive: Drive, id: ChannelId): readonly Away[] {
  const channel = drive.recording.channels.get(id);
  return channel ? jumpsOf(drive)(channel) : [];
}

/** Whether a sample lies in one of these stretches, or between its edges and the readings beside it. */
export function isInJump(channel: Channel, jumps: readonly Away[], atS: number): boolean {
  return jumps.some(({ from, to }) => atS > channel.time[from - 1] && atS < channel.time[to + 1]);
}

function jumpDoubt(drive: Drive, channel: Channel): Doubt | undefined {
  const found = jumpsOf(drive)(channel);
  if (found.length === 0) return undefined;
  const { time } = channel;
  const { unit } = channelEntry(channel.id);
  const size = formatQuantity(median(found.map((away) => away.size)), unit);
  const longestS = largest(found.map((away) => secondsOf(spanOf(channel, away))));
  const isLoose = found.some(
    (away) =>
      away.to - away.from + 1 >= CONTACT_READINGS &&
      secondsOf(spanOf(channel, away)) >= CONTACT_S - 1e-9 &&
      lies(spanOf(channel, away), drive.pulls),
  );
  const many = found.length >= WARN_COUNT;
  const name = channelName(channel.id);
  const soon = longestS > 0 ? `for up to ${formatQuantity(longestS, 's')}` : 'for one reading';
  const verdict = many
    ? ''
    : isLoose
      ? ' That lasts too long for a slip of the logger.'
      : ' So few are the logger, not the sensor.';
  return {
    gravity: many || isLoose ? 'warn' : 'tell',
    channels: [channel.id],
    short: `${name} jumps as it cannot`,
    said: [
      sentence(
        `${name} left the level around it and came back ${found.length === 1 ? 'once' : `${found.length} times`}, ${soon}, by ${size}${found.length > 1 ? ' in the middle' : ''}; the quantity cannot move like that.${verdict}`,
      ),
    ],
    where: found.slice(0, 20).map(({ from, to }) => ({ startS: time[from - 1], endS: time[to + 1] })),
    measured:
      many || !isLoose
        ? { value: found.length, unit: 'count', mark: WARN_COUNT }
        : { value: longestS, unit: 's', mark: CONTACT_S },
    next: [`Check the plug, earth and supply of the sensor for ${name}: a loose contact jumps like that.`],
  };
}

/** Movements that the quantity itself cannot make. */
export function jumpingChannels(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const channels = [...drive.recording.channels.values()].filter(({ id }) => IMPOSSIBLE[id] && !isSkipped(id));
  return {
    checked: channels.map(({ id }) => channelName(id)),
    doubts: channels.map((channel) => jumpDoubt(drive, channel)).filter((doubt) => doubt !== undefined),
  };
}
