import { type ChannelId, channelEntry } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import type { Drive } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { type Check, channelName, type Doubt, type Span, secondsOf } from './doubt.ts';
import { type Ended, PULL_ENDS, reachesEnd, saturationIn } from './end-in-pull.ts';
import type { Saturation } from './saturation.ts';

const WHY: Record<Saturation['by'], string> = {
  'known end': 'which is the end of its scale',
  'too alike': 'exactly alike, which its noise elsewhere in the pull rules out by chance',
  'engine speed': 'exactly alike while engine speed rose, which no engine does',
  'another pull': 'where it lay in another pull too, which proves that an end',
};

function endedDoubt(drive: Drive, channel: Channel, ended: Ended): Doubt | undefined {
  if (!reachesEnd(channel, ended)) return undefined;
  const found = drive.pulls.flatMap((pull) => {
    const saturation = saturationIn(drive, ended.id, pull);
    return saturation ? [{ pull, saturation }] : [];
  });
  if (found.length === 0) return undefined;
  const { unit } = channelEntry(ended.id);
  const name = channelName(ended.id);
  const longest = found.reduce((a, b) => (secondsOf(b.saturation) > secondsOf(a.saturation) ? b : a)).saturation;
  const why = WHY[longest.by];
  return {
    gravity: 'warn',
    channels: [ended.id],
    short: `${name} lay at the end of its range`,
    said: found
      .map(
        ({ pull, saturation: s }) =>
          `Pull ${pull.id}: ${s.updates} readings of ${name} on end were ${formatQuantity(s.level, unit)}, from ${formatQuantity(s.startS, 's')} to ${formatQuantity(s.endS, 's')}, ${why}.`,
      )
      .concat(ended.hence),
    where: found.map(({ saturation }) => saturation),
    measured: { value: secondsOf(longest), unit: 's', mark: longest.by === 'known end' ? 0.2 : 0.5 },
    next: ended.next,
  };
}

/** The first of a pull still holds exhaust of the overrun before it, s. */
const FLUSHED_S = 1;
const LEAN_END = 1.25;
const LEAN_S = 0.4;
const LEAN_UPDATES = 3;

/** Lambda at its lean end through part of a pull: no engine pulls there, so it measures air, or there is no fire. */
export function leanEnd(drive: Drive, lambda: Channel): Doubt | undefined {
  if (lambda.max < LEAN_END) return undefined;
  const where: Span[] = [];
  for (const pull of drive.pulls) {
    let from = -1;
    const to = indexAtOrAfter(lambda.time, pull.endS + 1e-9);
    for (let i = indexAtOrAfter(lambda.time, pull.startS + FLUSHED_S); i <= to; i++) {
      if (i < to && lambda.values[i] >= LEAN_END) {
        if (from < 0) from = i;
        continue;
      }
      if (from >= 0 && i - from >= LEAN_UPDATES && lambda.time[i - 1] - lambda.time[from] >= LEAN_S) {
        where.push({ startS: lambda.time[from], endS: lambda.time[i - 1] });
      }
      from = -1;
    }
  }
  if (where.length === 0) return undefined;
  const longest = Math.max(...where.map(secondsOf));
  return {
    gravity: 'warn',
    channels: ['lambda'],
    short: 'lambda lay at its lean end in a pull',
    said: [
      `Lambda read ${formatQuantity(LEAN_END, 'ratio')} or more for ${formatQuantity(longest, 's')} of a full-load pull. No engine pulls on such a mixture: the sensor saw air (an exhaust leak before it, misfire) or does not measure, or the scaling is wrong.`,
    ],
    where,
    measured: { value: longest, unit: 's', mark: LEAN_S },
    next: [
      'No further full-load pull until the mixture is known.',
      'Check the exhaust for leaks before the sensor, and the stoichiometric ratio in the mapping.',
      'Check the sensor, its heater and its wiring.',
    ],
  };
}

/** Ends of range inside pulls. The ends themselves outside pulls (lambda in fuel cut, throttle wide open) are no fault. */
export function saturatedChannels(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const doubts: Doubt[] = [];
  const checked: string[] = [];
  for (const ended of PULL_ENDS) {
    const channel = drive.recording.channels.get(ended.id);
    if (!channel || drive.pulls.length === 0 || isSkipped(ended.id) || channel.values.length < 2) continue;
    checked.push(channelName(ended.id));
    const found = [endedDoubt(drive, channel, ended), ended.id === 'lambda' ? leanEnd(drive, channel) : undefined];
    doubts.push(...found.filter((doubt) => doubt !== undefined));
  }
  return { checked, doubts };
}
