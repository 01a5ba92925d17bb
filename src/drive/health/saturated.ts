import { type ChannelId, channelEntry } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { type Check, channelName, type Doubt, type Span, secondsOf } from './doubt.ts';
import { type Saturation, saturatedLevel } from './saturation.ts';

interface Ended {
  readonly id: ChannelId;
  readonly end: 'top' | 'bottom';
  /** Ends of scale; one byte kPa, three kPa a bit and two bytes g/s by SAE J1979, the rest common practice, no source. */
  readonly knownEnds: readonly number[];
  readonly knownWithin: number;
  /** Only beyond this is it an end, in the channel's unit. */
  readonly beyond: number;
  readonly hence: string;
  readonly next: readonly string[];
}

const PULL_ENDS: readonly Ended[] = [
  {
    id: 'manifold_pressure',
    end: 'top',
    knownEnds: [255],
    knownWithin: 0.3,
    beyond: 120,
    hence: 'True boost there was that or higher; no boost verdict on it can be a pass.',
    next: [
      'Log manifold pressure from a channel with a wider range (two bytes, or a sensor made for the boost wanted), then repeat the pull.',
      'Until then take the boost beyond as unknown, not as held.',
    ],
  },
  {
    id: 'mass_air_flow',
    end: 'top',
    knownEnds: [655.35],
    knownWithin: 0.01,
    beyond: 100,
    hence: 'True airflow there was that or higher, so fuelling by it runs lean.',
    next: ['Check the range of the airflow meter and its curve in the calibration against the power that is made.'],
  },
  {
    id: 'lambda',
    end: 'bottom',
    knownEnds: [0.5, 0.6, 0.65, 0.68, 0.7],
    knownWithin: 0.002,
    beyond: 0.72,
    hence: 'The true mixture there was that or richer.',
    next: [
      'Check the range of the mixture sensor and its controller, and whether the engine is that rich at full load.',
    ],
  },
  {
    id: 'fuel_rail_pressure',
    end: 'top',
    knownEnds: [765],
    knownWithin: 1,
    beyond: 700,
    hence: 'True rail pressure there was that or higher.',
    next: ['Log rail pressure from a channel with a wider range.'],
  },
];

/** Samples before the pull that help to tell noise, s. */
const LOOK_BACK_S = 3;

function inPull(channel: Channel, pull: Pull, ended: Ended): Saturation | undefined {
  const from = indexAtOrAfter(channel.time, pull.startS - LOOK_BACK_S);
  const to = indexAtOrAfter(channel.time, pull.endS + 1e-9);
  return saturatedLevel(channel.time.subarray(from, to), channel.values.subarray(from, to), {
    end: ended.end,
    outermost: ended.end === 'top' ? channel.max : channel.min,
    step: channel.step,
    knownEnds: ended.knownEnds,
    knownWithin: ended.knownWithin,
  });
}

function endedDoubt(drive: Drive, channel: Channel, ended: Ended): Doubt | undefined {
  const outermost = ended.end === 'top' ? channel.max : channel.min;
  if (ended.end === 'top' ? outermost < ended.beyond : outermost > ended.beyond) return undefined;
  const found = drive.pulls.flatMap((pull) => {
    const saturation = inPull(channel, pull, ended);
    return saturation ? [{ pull, saturation }] : [];
  });
  if (found.length === 0) return undefined;
  const { unit } = channelEntry(ended.id);
  const name = channelName(ended.id);
  const longest = found.reduce((a, b) => (secondsOf(b.saturation) > secondsOf(a.saturation) ? b : a)).saturation;
  const why =
    longest.by === 'known end'
      ? 'which is the end of its scale'
      : 'exactly alike, which its noise elsewhere in the pull rules out by chance';
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
