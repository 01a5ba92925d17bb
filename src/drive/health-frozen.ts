import { type ChannelId, channelEntry } from '../channels/catalogue.ts';
import type { Channel } from '../channels/recording.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { engineSpeedAt } from './channel-series.ts';
import type { Drive, Pull } from './drive.ts';
import { type ConstantRun, constantRuns } from './health-constant.ts';
import { type Check, channelName, type Doubt, secondsOf, sentence } from './health-doubt.ts';
import { isTooAlike } from './health-too-alike.ts';
import { indexAtOrAfter } from './pull-series.ts';

/** Channels with noise and movement in every pull. Ends of range are another question (see saturation). */
const LIVELY = [
  'manifold_pressure',
  'mass_air_flow',
  'injector_pulse_width',
  'lambda',
] as const satisfies readonly ChannelId[];

/** A stretch this long, of so many readings, and so many times longer than any other of the pull. Common practice, no source. */
const LEAST_S = 1;
const LEAST_UPDATES = 10;
const TIMES_LONGER = 5;
/** Engine speed has to have moved on, or the whole logger stood still, rpm. */
const LEAST_RISE_RPM = 300;

function frozenIn(drive: Drive, channel: Channel, pull: Pull): ConstantRun | undefined {
  const from = indexAtOrAfter(channel.time, pull.startS - 1e-9);
  const to = indexAtOrAfter(channel.time, pull.endS + 1e-9);
  const time = channel.time.subarray(from, to);
  const values = channel.values.subarray(from, to);
  const runs = constantRuns(time, values, 1);
  if (runs.length < 2) return undefined;
  const longest = runs.reduce((a, b) => (b.updates > a.updates ? b : a));
  const nextLongest = runs.reduce((most, run) => (run === longest ? most : Math.max(most, run.updates)), 0);
  if (secondsOf(longest) < LEAST_S || longest.updates < Math.max(LEAST_UPDATES, TIMES_LONGER * nextLongest)) {
    return undefined;
  }
  const at = indexAtOrAfter(time, longest.startS);
  if (!isTooAlike(time, values, { from: at, to: at + longest.updates - 1 }, channel.step)) return undefined;
  if (longest.value === channel.max || longest.value === channel.min) return undefined;
  const [rpmFrom, rpmTo] = engineSpeedAt(drive, Float64Array.of(longest.startS, longest.endS));
  return rpmTo - rpmFrom >= LEAST_RISE_RPM ? longest : undefined;
}

function frozenDoubt(drive: Drive, channel: Channel): Doubt | undefined {
  const found = drive.pulls.flatMap((pull) => {
    const run = frozenIn(drive, channel, pull);
    return run ? [{ pull, run }] : [];
  });
  if (found.length === 0) return undefined;
  const name = channelName(channel.id);
  return {
    gravity: 'warn',
    channels: [channel.id],
    short: `${name} froze in a pull`,
    said: found.map(({ pull, run }) =>
      sentence(
        `${name} read ${formatQuantity(run.value, channelEntry(channel.id).unit)} ${run.updates} times on end in pull ${pull.id}, for ${formatQuantity(secondsOf(run), 's')}, while engine speed went on rising and its noise in the rest of the pull rules that out by chance.`,
      ),
    ),
    where: found.map(({ run }) => run),
    measured: { value: Math.max(...found.map(({ run }) => secondsOf(run))), unit: 's', mark: LEAST_S },
    next: [`Repeat the pull. If it freezes again, check plug and wiring for ${name}, and how the logger asks for it.`],
  };
}

/** Channels that stop in the middle of a pull and go on. */
export function frozenChannels(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const channels = LIVELY.filter((id) => !isSkipped(id)).flatMap((id) => drive.recording.channels.get(id) ?? []);
  const doubts = channels.map((channel) => frozenDoubt(drive, channel)).filter((doubt) => doubt !== undefined);
  return { checked: drive.pulls.length > 0 ? channels.map(({ id }) => channelName(id)) : [], doubts };
}
