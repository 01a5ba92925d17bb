import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { flatTop } from '../boost/topped.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { longestAt, type Saturation, saturatedLevel, saturationAt } from './saturation.ts';

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

/** A channel from `lookBackS` before a pull to its end. */
function readingsOf({ time, values }: Channel, pull: Pull, lookBackS: number) {
  const from = indexAtOrAfter(time, pull.startS - lookBackS);
  const to = indexAtOrAfter(time, pull.endS + 1e-9);
  return { time: time.subarray(from, to), values: values.subarray(from, to) };
}

/** Manifold pressure lies too flat for how it rose: looked at from the start of the pull only. */
function flatBoost(channel: Channel, pull: Pull): Saturation | undefined {
  const { time, values } = readingsOf(channel, pull, 1e-9);
  const at = flatTop(time, values, channel);
  return at && saturationAt(channel.max, time, at, 'too alike');
}

function inPull(drive: Drive, channel: Channel, pull: Pull, ended: Ended): Saturation | undefined {
  const { time, values } = readingsOf(channel, pull, LOOK_BACK_S);
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

/** What each pull shows by itself, worked out once: boost, duty and sensor health ask, and every pull for the others. */
const byItself = oncePer((drive: Drive) =>
  oncePer((ended: Ended) =>
    oncePer((pull: Pull): Saturation | undefined => {
      const channel = drive.recording.channels.get(ended.id);
      return channel && inPull(drive, channel, pull, ended);
    }),
  ),
);

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
  return saturationAt(max, time, at, 'engine speed');
}

/** How a channel lay at the end of what it can show in a pull; nothing where it did not, or where no end of it is looked for. */
export function saturationIn(drive: Drive, id: ChannelId, pull: Pull): Saturation | undefined {
  const channel = drive.recording.channels.get(id);
  const ended = PULL_ENDS.find((one) => one.id === id);
  if (!channel || !ended || !reachesEnd(channel, ended)) return undefined;
  return byItself(drive)(ended)(pull) ?? alsoAtEnd(drive, channel, pull, ended);
}

/** An end that another pull shows is one for this pull too, where it lay there for some readings. */
function alsoAtEnd(drive: Drive, channel: Channel, pull: Pull, ended: Ended): Saturation | undefined {
  if (ended.end !== 'top') return undefined;
  const { time, values } = readingsOf(channel, pull, 1e-9);
  const at = longestAt(values, (value) => value === channel.max);
  if (!at || at.to - at.from + 1 < ALSO_UPDATES) return undefined;
  const isEnd = drive.pulls.some((other) => other !== pull && byItself(drive)(ended)(other));
  return isEnd ? saturationAt(channel.max, time, at, 'another pull') : undefined;
}

const ALSO_UPDATES = 3;

export const reachesEnd = ({ min, max }: Channel, { end, beyond }: Ended): boolean =>
  end === 'top' ? max >= beyond : min <= beyond;
