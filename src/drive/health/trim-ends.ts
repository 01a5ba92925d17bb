import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import type { Drive } from '../drive.ts';
import { constantRuns } from './constant.ts';
import { type Check, channelName, type Doubt, secondsOf } from './doubt.ts';

const TRIMS = [
  'short_term_fuel_trim_1',
  'short_term_fuel_trim_2',
  'long_term_fuel_trim_1',
  'long_term_fuel_trim_2',
] as const satisfies readonly ChannelId[];

/** Ranges end anywhere from ±15 to ±35 %, by calibration; long term trims stand still anyway, so for them only round ends count, and none that lasts all through the log. Common practice, no source. */
const LEAST_SHORT = 15;
const LEAST_LONG = 18;
const ROUND_ENDS = [20, 25, 30, 35];
const ROUND_WITHIN = 0.3;
const LEAST_S = 5;
const LEAST_UPDATES = 4;

function isEnd({ id, min, max }: Channel, value: number): boolean {
  if (value !== min && value !== max) return false;
  const size = Math.abs(value);
  if (id.startsWith('short')) return size >= LEAST_SHORT;
  return min !== max && size >= LEAST_LONG && ROUND_ENDS.some((end) => Math.abs(size - end) <= ROUND_WITHIN);
}

function trimDoubt(channel: Channel): Doubt | undefined {
  const { id, min, max } = channel;
  if (!isEnd(channel, min) && !isEnd(channel, max)) return undefined;
  const runs = constantRuns(channel.time, channel.values, LEAST_UPDATES).filter(
    (run) => isEnd(channel, run.value) && secondsOf(run) >= LEAST_S,
  );
  if (runs.length === 0) return undefined;
  const longest = runs.reduce((a, b) => (secondsOf(b) > secondsOf(a) ? b : a));
  return {
    gravity: 'warn',
    channels: [id],
    short: `${channelName(id)} stood at its end`,
    said: [
      `${channelName(id)[0].toUpperCase()}${channelName(id).slice(1)} stood at ${formatQuantity(longest.value, '%')}, its outermost value of the log, for ${formatQuantity(secondsOf(longest), 's')} on end: it can correct no further, and the true error is that or larger.`,
    ],
    where: runs,
    measured: { value: secondsOf(longest), unit: 's', mark: LEAST_S },
    next: ['Read the fuel trim analyser first: the base fuelling is beyond what closed loop can correct.'],
  };
}

/** Trims at the end of their range. */
export function trimsAtEnd(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const channels = TRIMS.filter((id) => !isSkipped(id)).flatMap((id) => drive.recording.channels.get(id) ?? []);
  return {
    checked: channels.map(({ id }) => channelName(id)),
    doubts: channels.map(trimDoubt).filter((doubt) => doubt !== undefined),
  };
}
