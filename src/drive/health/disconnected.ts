import type { Build } from '../../build-sheet/build.ts';
import { type ChannelId, channelEntry, isChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { quantile } from '../../signal/quantile.ts';
import type { Drive } from '../drive.ts';
import { deadClause } from './dead.ts';
import { type Check, channelName, type Doubt, sentence } from './doubt.ts';
import { followsLoad } from './stuck.ts';

/** An airflow meter that reads more than this, and that much more at its top than at its bottom, is alive. Common practice, no source. */
const METER_ALIVE_GS = 5;
const METER_ALIVE_TIMES = 1.5;
/** Any other channel is alive when it moves by this share of its level, over this many values. */
const MOVES_SHARE = 0.1;
const MOVES_VALUES = 8;

function isAlive(drive: Drive, channel: Channel): boolean {
  if (deadClause(drive, channel) !== undefined) return false;
  const follows = followsLoad(drive, channel);
  if (follows !== undefined) return follows;
  const [low, middle, high] = [0.02, 0.5, 0.98].map((share) => quantile(channel.values, share));
  if (channel.id === 'mass_air_flow') return high > METER_ALIVE_GS && high > METER_ALIVE_TIMES * Math.max(low, 0);
  return new Set(channel.values).size >= MOVES_VALUES && high - low > MOVES_SHARE * Math.max(Math.abs(middle), 1);
}

function listedDoubt(drive: Drive, id: ChannelId): Doubt {
  const channel = drive.recording.channels.get(id);
  const name = channelName(id);
  const tell = (short: string, said: string): Doubt => ({
    gravity: 'tell',
    channels: [id],
    short,
    said: [said],
    where: [],
    next: [],
  });
  if (!channel) {
    return tell(
      `${name} is disconnected`,
      sentence(`${name} is listed as disconnected, and this log holds no value of it.`),
    );
  }
  const show = (value: number) => formatQuantity(value, channelEntry(id).unit);
  const range =
    channel.min === channel.max
      ? `read ${show(channel.min)} throughout`
      : `read ${show(channel.min)} to ${show(channel.max)}`;
  if (!isAlive(drive, channel)) {
    return tell(
      `${name} is disconnected`,
      sentence(`${name} is listed as disconnected and says nothing (${range}), as expected: no fault.`),
    );
  }
  return {
    gravity: 'warn',
    channels: [id],
    short: `${name} is alive though listed as disconnected`,
    said: [
      sentence(
        `${name} ${range} and moves with the engine, though the build sheet lists it in expect.disconnected. Either the sensor is plugged in, and the car was not driven as the sheet says, or the controller logs a substitute value in its place.`,
      ),
    ],
    where: [{ startS: channel.time[0], endS: channel.time[channel.time.length - 1] }],
    measured: {
      value: channel.max,
      unit: channelEntry(id).unit,
      mark: id === 'mass_air_flow' ? METER_ALIVE_GS : channel.min,
    },
    next: [
      'Look whether the sensor is plugged in. If it is, unplug it and repeat the run, or take it off the list.',
      'If it is unplugged, the logged value is a substitute: leave the channel out of the mapping.',
    ],
  };
}

/** The channels that the build sheet lists as disconnected: dead as expected, or alive. */
export function disconnectedChannels(drive: Drive, build: Build): Check {
  const listed = [...new Set(build.expect.disconnected)].filter(isChannelId);
  return { checked: listed.map(channelName), doubts: listed.map((id) => listedDoubt(drive, id)) };
}
