import type { Build } from '../../build-sheet/build.ts';
import { type ChannelId, channelEntry, isChannelId } from '../../channels/catalogue.ts';
import type { Channel, Recording } from '../../channels/recording.ts';
import { isMassAirFlowCircuitCode } from '../../engine/trouble-code.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import type { Drive } from '../drive.ts';
import { sustainedTop } from '../load-signal.ts';
import { activityFor } from './activity.ts';
import { type Check, channelName, type Doubt, runningS, type Span, secondsOf, sentence } from './doubt.ts';

/** A running engine shows more than this; a channel that never does is dead. Common practice, no source. */
const NOTHING_ABOVE: Partial<Record<ChannelId, number>> = {
  mass_air_flow: 1,
  manifold_pressure: 5,
  injector_pulse_width: 0.05,
  injector_duty: 0.05,
  calculated_load: 0.5,
  absolute_load: 0.5,
  lambda: 0.1,
  battery_voltage: 5,
  fuel_rail_pressure: 1,
  exhaust_gas_temperature: 0,
};
/** What a temperature sensor with an open circuit reads, and lower, °C (SAE J1979 scaling begins at −40). */
const OPEN_CIRCUIT_C = -38;
/** A shorted one reads the top of the scale, °C (SAE J1979: 215). */
const SHORTED_C = 214;
const TEMPERATURES: readonly ChannelId[] = [
  'coolant_temperature',
  'oil_temperature',
  'intake_air_temperature',
  'charge_air_temperature',
];
/** An engine has to run this long before its silence tells, s. */
const LEAST_RUNNING_S = 5;
const LEAST_UPDATES = 5;
/** Without these no question, or no question about boost, can be answered. */
const ESSENTIAL: readonly ChannelId[] = ['engine_speed', 'manifold_pressure'];

const wholeOf = ({ time }: Channel): Span => ({ startS: time[0], endS: time[time.length - 1] });

/** How a channel is dead over the whole log, in a clause; nothing where it is not. */
export function deadClause(drive: Drive, channel: Channel): string | undefined {
  const { id, min, max } = channel;
  if (channel.values.length < LEAST_UPDATES) return undefined;
  const show = (value: number) => formatQuantity(value, channelEntry(id).unit);
  if (TEMPERATURES.includes(id)) {
    if (max <= OPEN_CIRCUIT_C) return `never read above ${show(max)}, which is an open circuit`;
    if (min >= SHORTED_C) return `never read below ${show(min)}, which is a short circuit`;
    return undefined;
  }
  const silent = silentClause(drive, channel);
  return silent !== undefined && runningS(drive) >= LEAST_RUNNING_S ? silent : undefined;
}

/** How a channel says nothing of an engine, which is no fault unless that ran. */
function silentClause(drive: Drive, { id, min, max }: Channel): string | undefined {
  const show = (value: number) => formatQuantity(value, channelEntry(id).unit);
  const nothing = NOTHING_ABOVE[id];
  if (nothing !== undefined && max <= nothing) return `never read above ${show(max)} with the engine running`;
  if (id === 'mass_air_flow' && min === max) return `read ${show(max)} all through the log`;
  if (id === 'accelerator_position' && min === max) {
    const wide = activityFor(drive, id)?.wide.reduce((sum, span) => sum + secondsOf(span), 0) ?? 0;
    if (wide >= 1)
      return `read ${show(max)} all through the log, while the throttle was wide open for ${formatQuantity(wide, 's')}`;
  }
  return undefined;
}

/** Mapped channels without a single value, as the recording's notes tell them. */
export function emptyChannels(recording: Recording): ChannelId[] {
  return recording.notes
    .map((note) => /\((\w+)\) holds no value in this log\.$/.exec(note)?.[1])
    .filter((id) => id !== undefined && isChannelId(id));
}

/** Why a dead airflow meter is no fault of this car; nothing where it is one. */
export function meterExcuse(build: Build): string | undefined {
  if (build.airflow === 'speed-density')
    return 'the build sheet says that this calibration runs by speed-density, without the meter';
  const code = build.expect.ignoreCodes.find((listed) => isMassAirFlowCircuitCode(listed.toUpperCase()));
  return code && `the build sheet expects the airflow meter code ${code}`;
}

/** Zero road speed through pulls is a dynamometer as often as a dead sensor. */
function standingDoubt(drive: Drive): Doubt | undefined {
  const road = drive.recording.channels.get('vehicle_speed');
  if (!road || road.values.length < LEAST_UPDATES || drive.pulls.length === 0) return undefined;
  if (road.min > 0 || sustainedTop(road.values) > 0) return undefined;
  return {
    gravity: 'tell',
    channels: ['vehicle_speed'],
    short: 'vehicle speed was 0 throughout',
    said: [
      'Vehicle speed read 0 in every pull: a dynamometer that does not turn the wheel with the sensor, or a dead sensor. Nothing is judged by it.',
    ],
    where: [wholeOf(road)],
    next: [],
  };
}

/** What a live sensor would have left: the level it never rose above, or for a temperature the end of the scale it lies at. */
function deadMark({ id, max }: Channel): number {
  if (TEMPERATURES.includes(id)) return max <= OPEN_CIRCUIT_C ? OPEN_CIRCUIT_C : SHORTED_C;
  return NOTHING_ABOVE[id] ?? max;
}

function deadDoubt(drive: Drive, build: Build, channel: Channel): Doubt | undefined {
  const clause = deadClause(drive, channel);
  if (clause === undefined) return undefined;
  const { id } = channel;
  const excuse = id === 'mass_air_flow' ? meterExcuse(build) : undefined;
  return {
    gravity: excuse ? 'tell' : 'warn',
    channels: [id],
    short: `${channelName(id)} is dead`,
    said: [sentence(`${channelName(id)} ${clause}${excuse ? `; no fault, as ${excuse}` : ''}.`)],
    where: [wholeOf(channel)],
    measured: { value: channel.max, unit: channelEntry(id).unit, mark: deadMark(channel) },
    next: excuse
      ? []
      : [
          `Check the sensor, plug and wiring for ${channelName(id)}, and that the mapping names the right column.`,
          `If it is unplugged on purpose, write "${id}" in expect.disconnected of the build sheet.`,
        ],
  };
}

function emptyDoubt(id: ChannelId, { rowCount, durationS }: Recording): Doubt {
  return {
    gravity: ESSENTIAL.includes(id) ? 'warn' : 'tell',
    channels: [id],
    short: `${channelName(id)} has no values`,
    said: [`${sentence(channelName(id))} is mapped, but its column holds no value in ${rowCount} rows.`],
    where: [{ startS: 0, endS: durationS }],
    measured: { value: 0, unit: 'count', mark: 1 },
    next: ['Check that the logger records this channel and that the mapping names the right column.'],
  };
}

/** Channels that are mapped but say nothing. */
export function deadChannels(drive: Drive, build: Build, isSkipped: (id: ChannelId) => boolean): Check {
  const { recording } = drive;
  const channels = [...recording.channels.values()].filter(({ id }) => !isSkipped(id));
  const empty = emptyChannels(recording).filter((id) => !isSkipped(id));
  return {
    checked: [...channels.map(({ id }) => id), ...empty].map(channelName),
    doubts: [
      ...channels.map((channel) => deadDoubt(drive, build, channel)),
      ...empty.map((id) => emptyDoubt(id, recording)),
      isSkipped('vehicle_speed') ? undefined : standingDoubt(drive),
    ].filter((doubt) => doubt !== undefined),
  };
}
