import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { flatTop } from '../boost/topped.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { longestAt, type Saturation, saturatedLevel } from './saturation.ts';
import type { Stretch } from './too-alike.ts';

/** An end of what a channel can show, in a pull. */
export interface Ended {
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

export const PULL_ENDS: readonly Ended[] = [
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

function inPull(drive: Drive, channel: Channel, pull: Pull, ended: Ended): Saturation | undefined {
  const from = indexAtOrAfter(channel.time, pull.startS - LOOK_BACK_S);
  const to = indexAtOrAfter(channel.time, pull.endS + 1e-9);
  const time = channel.time.subarray(from, to);
  const values = channel.values.subarray(from, to);
  const found = saturatedLevel(time, values, {
    end: ended.end,
    outermost: ended.end === 'top' ? channel.max : channel.min,
    step: channel.step,
    knownEnds: ended.knownEnds,
    knownWithin: ended.knownWithin,
  });
  if (ended.id === 'manifold_pressure') return found?.by === 'known end' ? found : flatBoost(channel, pull);
  return found ?? (ended.id === 'mass_air_flow' ? flatWhileRising(drive, channel, time, values) : undefined);
}

/** Manifold pressure, looked at from the start of the pull only: boost lies too flat for how it rose. */
function flatBoost(channel: Channel, pull: Pull): Saturation | undefined {
  const from = indexAtOrAfter(channel.time, pull.startS - 1e-9);
  const to = indexAtOrAfter(channel.time, pull.endS + 1e-9);
  const time = channel.time.subarray(from, to);
  const at = flatTop(time, channel.values.subarray(from, to), channel);
  return at && stretchAt(channel, time, at, 'too alike');
}

const stretchAt = ({ max }: Channel, time: Float64Array, at: Stretch, by: Saturation['by']): Saturation => ({
  level: max,
  startS: time[at.from],
  endS: time[at.to],
  updates: at.to - at.from + 1,
  by,
});

/** Airflow that reads its highest value without any change while engine speed rises by this share, for so long, s, and many readings: no engine breathes so. Common practice, no source. */
const FLAT_RISE = 0.12;
const FLAT_S = 0.7;
const FLAT_UPDATES = 6;
/** Steps coarser than this share of the value can hide a change. */
const COARSEST_STEP = 0.01;

function flatWhileRising(
  drive: Drive,
  channel: Channel,
  time: Float64Array,
  values: Float64Array,
): Saturation | undefined {
  const { max, step } = channel;
  if (step > COARSEST_STEP * max) return undefined;
  const at = longestAt(values, (value) => value === max);
  if (!at || at.to - at.from + 1 < FLAT_UPDATES || time[at.to] - time[at.from] < FLAT_S) return undefined;
  const [first, last] = engineSpeedAt(drive, Float64Array.of(time[at.from], time[at.to]));
  if (!(last >= (1 + FLAT_RISE) * first)) return undefined;
  return stretchAt(channel, time, at, 'engine speed');
}

/** How a channel lay at the end of what it can show in a pull; nothing where it did not, or where no end of it is looked for. */
export function saturationIn(drive: Drive, id: ChannelId, pull: Pull): Saturation | undefined {
  const channel = drive.recording.channels.get(id);
  const ended = PULL_ENDS.find((one) => one.id === id);
  if (!channel || !ended || !reachesEnd(channel, ended)) return undefined;
  return inPull(drive, channel, pull, ended) ?? alsoAtEnd(drive, channel, pull, ended);
}

/** An end that another pull shows is one for this pull too, where it lay there for some readings. */
function alsoAtEnd(drive: Drive, channel: Channel, pull: Pull, ended: Ended): Saturation | undefined {
  if (ended.end !== 'top') return undefined;
  const from = indexAtOrAfter(channel.time, pull.startS - 1e-9);
  const to = indexAtOrAfter(channel.time, pull.endS + 1e-9);
  const time = channel.time.subarray(from, to);
  const at = longestAt(channel.values.subarray(from, to), (value) => value === channel.max);
  if (!at || at.to - at.from + 1 < ALSO_UPDATES) return undefined;
  const isEnd = drive.pulls.some((other) => other !== pull && inPull(drive, channel, other, ended));
  return isEnd ? stretchAt(channel, time, at, 'another pull') : undefined;
}

const ALSO_UPDATES = 3;

export const reachesEnd = ({ min, max }: Channel, { end, beyond }: Ended): boolean =>
  end === 'top' ? max >= beyond : min <= beyond;
