import { type ChannelId, channelEntry } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { smallest } from '../../signal/extremes.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { type ConstantRun, constantRuns } from './constant.ts';
import { type Check, channelName, type Doubt, secondsOf, sentence } from './doubt.ts';
import { isTooMany, noiseBeside } from './too-alike.ts';

/** Channels with noise and movement in every pull; a rail on a fixed regulator at least with noise. */
const LIVELY = [
  'manifold_pressure',
  'mass_air_flow',
  'injector_pulse_width',
  'lambda',
  'fuel_rail_pressure',
] as const satisfies readonly ChannelId[];
export type LivelyId = (typeof LIVELY)[number];

/** A stretch this long, of so many readings, and so many times longer than any other of the pull. Common practice, no source. */
const LEAST_S = 1;
const LEAST_UPDATES = 10;
const TIMES_LONGER = 5;
/** Engine speed has to have moved on, or the whole logger stood still, rpm. */
const LEAST_RISE_RPM = 300;

/** Whether a stretch lies at an end of the channel's range, which is another question (see saturation). */
const AT_END: Record<LivelyId, (value: number, channel: Channel) => boolean> = {
  manifold_pressure: (value, { max }) => value === max && value > 120,
  mass_air_flow: (value, { max }) => value === max && value > 100,
  injector_pulse_width: () => false,
  lambda: (value, { min }) => (value === min && value <= 0.72) || value >= 1.25,
  fuel_rail_pressure: (value, { max }) => value === max && value > 700,
};

interface Longest {
  readonly pull: Pull;
  /** Longest stretch of one value, and its first reading in the channel. */
  readonly run: ConstantRun;
  readonly from: number;
  readonly nextLongest: number;
}

const readingsOf = ({ time, values }: Channel, pull: Pull) => {
  const from = indexAtOrAfter(time, pull.startS - 1e-9);
  const to = indexAtOrAfter(time, pull.endS + 1e-9);
  return { from, time: time.subarray(from, to), values: values.subarray(from, to) };
};

function longestIn(channel: Channel, pull: Pull): Longest | undefined {
  const { from, time, values } = readingsOf(channel, pull);
  if (constantRuns(time, values, LEAST_UPDATES).length === 0) return undefined;
  const runs = constantRuns(time, values, 1);
  const run = runs.reduce((a, b) => (b.updates > a.updates ? b : a));
  const nextLongest = runs.reduce((most, other) => (other === run ? most : Math.max(most, other.updates)), 0);
  return { pull, run, from: from + indexAtOrAfter(time, run.startS), nextLongest };
}

/** Noise of a pull beside its longest stretch of one value; undefined where too few readings are left, or all in a bend. */
function noiseIn(channel: Channel, pull: Pull): number | undefined {
  const { from, time, values } = readingsOf(channel, pull);
  const longest = longestIn(channel, pull);
  const beside = longest
    ? { from: longest.from - from, to: longest.from - from + longest.run.updates - 1 }
    : { from: -2, to: -2 };
  return noiseBeside(time, values, beside);
}

const isLong = ({ run, nextLongest }: Longest) =>
  secondsOf(run) >= LEAST_S && run.updates >= Math.max(LEAST_UPDATES, TIMES_LONGER * nextLongest);

/** Whether the stretch cannot be chance: by the noise of its pull, else by the least noise of another. */
function isFrozen(drive: Drive, channel: Channel, longest: Longest, noise: number | undefined): boolean {
  const { run, from } = longest;
  if (noise === undefined || AT_END[channel.id as LivelyId](run.value, channel)) return false;
  if (!isTooMany(run.updates, run.value, noise, channel.step)) return false;
  // In the pull may be the steep rise alone, which scatters by its sampling times: a log without noise has none there either.
  const ofLog = noiseBeside(channel.time, channel.values, { from, to: from + run.updates - 1 });
  if (ofLog !== undefined && !isTooMany(run.updates, run.value, ofLog, channel.step)) return false;
  const [rpmFrom, rpmTo] = engineSpeedAt(drive, Float64Array.of(run.startS, run.endS));
  return rpmTo - rpmFrom >= LEAST_RISE_RPM;
}

const frozenOf = oncePer((drive: Drive) =>
  oncePer((channel: Channel): ReadonlyMap<Pull, ConstantRun> => {
    const longest = drive.pulls.map((pull) => longestIn(channel, pull)).filter((found) => found !== undefined);
    const suspects = longest.filter(isLong);
    if (suspects.length === 0) return new Map();
    const noises = new Map(drive.pulls.map((pull) => [pull, noiseIn(channel, pull)]));
    const known = [...noises.values()].filter((noise) => noise !== undefined);
    const least = known.length > 0 ? smallest(known) : undefined;
    return new Map(
      suspects
        .filter((one) => isFrozen(drive, channel, one, noises.get(one.pull) ?? least))
        .map(({ pull, run }): [Pull, ConstantRun] => [pull, run]),
    );
  }),
);

/** The stretch of a pull in which a channel stopped and engine speed went on; nothing where it lives. */
export function frozenStretch(drive: Drive, id: LivelyId, pull: Pull): ConstantRun | undefined {
  const channel = drive.recording.channels.get(id);
  return channel && frozenOf(drive)(channel).get(pull);
}

/** Whether any of the channels froze in a pull, so that it tells nothing by them. */
export const froze = (drive: Drive, ids: readonly LivelyId[], pull: Pull): boolean =>
  ids.some((id) => frozenStretch(drive, id, pull) !== undefined);

function frozenDoubt(drive: Drive, id: LivelyId): Doubt | undefined {
  const found = drive.pulls.flatMap((pull) => {
    const run = frozenStretch(drive, id, pull);
    return run ? [{ pull, run }] : [];
  });
  if (found.length === 0) return undefined;
  const name = channelName(id);
  return {
    gravity: 'warn',
    channels: [id],
    short: `${name} froze in a pull`,
    said: found.map(({ pull, run }) =>
      sentence(
        `${name} read ${formatQuantity(run.value, channelEntry(id).unit)} ${run.updates} times on end in pull ${pull.id}, for ${formatQuantity(secondsOf(run), 's')}, while engine speed went on rising and its noise beside that rules it out by chance. Nothing in that pull is judged by it.`,
      ),
    ),
    where: found.map(({ run }) => run),
    measured: { value: Math.max(...found.map(({ run }) => secondsOf(run))), unit: 's', mark: LEAST_S },
    next: [`Repeat the pull. If it freezes again, check plug and wiring for ${name}, and how the logger asks for it.`],
  };
}

/** Channels that stop in the middle of a pull and go on. */
export function frozenChannels(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const ids = LIVELY.filter((id) => drive.recording.channels.has(id) && !isSkipped(id));
  const doubts = ids.map((id) => frozenDoubt(drive, id)).filter((doubt) => doubt !== undefined);
  return { checked: drive.pulls.length > 0 ? ids.map(channelName) : [], doubts };
}
