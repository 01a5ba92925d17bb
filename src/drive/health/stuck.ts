import { type ChannelId, channelEntry } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { median } from '../../signal/median.ts';
import { quantile } from '../../signal/quantile.ts';
import { workspace } from '../../signal/working-copy.ts';
import type { Drive } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { type Activity, activityFor, isThrottled } from './activity.ts';
import { constantRuns, mayBeOneStretch } from './constant.ts';
import { type Check, channelName, type Doubt, overlapS, type Span, secondsOf, sentence } from './doubt.ts';

interface Follower {
  readonly id: ChannelId;
  /**
   * Smallest difference between shut and wide open that counts as following, in the channel's unit; without it only a
   * value that never changes at all is a fault. Common practice, no source.
   */
  readonly least?: number;
  /** How grave it is in a pull: `fail` where pulls are judged by this channel and by no other. */
  readonly inPull: 'warn' | 'fail';
}

/** Channels that cannot stay the same between a shut and a wide open throttle. */
const FOLLOWERS: readonly Follower[] = [
  { id: 'manifold_pressure', least: 4, inPull: 'fail' },
  { id: 'mass_air_flow', least: 2, inPull: 'warn' },
  { id: 'injector_pulse_width', least: 0.15, inPull: 'fail' },
  { id: 'injector_duty', least: 1, inPull: 'warn' },
  { id: 'calculated_load', least: 3, inPull: 'warn' },
  { id: 'absolute_load', least: 3, inPull: 'warn' },
  { id: 'throttle_position', least: 3, inPull: 'warn' },
  { id: 'spark_advance', inPull: 'warn' },
  { id: 'lambda', inPull: 'warn' },
];

/** A stretch must hold this much of either state, s and updates. */
const LEAST_S = 1;
const LEAST_UPDATES = 3;
/** To say of noisy readings that they do not follow takes more of both, s and updates. */
const NOISY_S = 3;
const NOISY_UPDATES = 5;

const LAMBDA_LEAN_END = 1.25;

const NEXT: Partial<Record<ChannelId, readonly string[]>> = {
  manifold_pressure: [
    'Check that the hose to the manifold pressure sensor is on and clear, then its plug and wiring.',
    'Check that the mapping names manifold pressure, not barometric pressure or a target.',
  ],
  lambda: [
    'Check that the column is the measured mixture and not a target, then the sensor, its heater and its wiring.',
  ],
};

const roomForReadings = workspace();

/** Readings that lie in any of the spans, which follow one another without overlap, and in `within`; only good until the next call. */
function valuesIn({ time, values }: Channel, spans: readonly Span[], within: Span): Float64Array {
  const found = roomForReadings(values.length);
  let count = 0;
  for (const { startS, endS } of spans) {
    const last = Math.min(endS, within.endS);
    for (let i = indexAtOrAfter(time, Math.max(startS, within.startS)); time[i] <= last; i++)
      found[count++] = values[i];
  }
  return found.subarray(0, count);
}

const wholeOf = ({ time }: Channel): Span => ({ startS: time[0], endS: time[time.length - 1] });

/** Lambda lies at its lean end in every fuel cut: there a pull at that end is another fault (see saturation). */
const isLeanEnd = (id: ChannelId, value: number) => id === 'lambda' && value >= LAMBDA_LEAN_END;

function stillSpans(channel: Channel, { closed, wide, changes }: Activity): Span[] {
  const { time, values } = channel;
  // A stretch that holds some of both states holds a change from one to the other.
  if (!changes.some(({ startS, endS }) => mayBeOneStretch(time, values, startS, endS))) return [];
  return constantRuns(time, values, 2 * LEAST_UPDATES).filter(
    (run) =>
      !isLeanEnd(channel.id, run.value) &&
      overlapS(run, closed) >= LEAST_S &&
      overlapS(run, wide) >= LEAST_S &&
      valuesIn(channel, closed, run).length >= LEAST_UPDATES &&
      valuesIn(channel, wide, run).length >= LEAST_UPDATES,
  );
}

/** Whether a channel is the same shut and wide open over the whole log, noise and drift aside; undefined where too little of either was driven. */
function ignoresLoad(channel: Channel, { closed, wide }: Activity, least: number): boolean | undefined {
  const whole = wholeOf(channel);
  if (overlapS(whole, closed) < NOISY_S || overlapS(whole, wide) < NOISY_S) return undefined;
  const levelIn = (spans: readonly Span[]) => {
    const readings = valuesIn(channel, spans, whole);
    return readings.length < NOISY_UPDATES ? undefined : median(readings);
  };
  const shut = levelIn(closed);
  const open = levelIn(wide);
  if (shut === undefined || open === undefined) return undefined;
  if (Math.abs(open - shut) >= least) return false;
  return quantile(channel.values, 0.95) - quantile(channel.values, 0.05) < 2 * least;
}

/** Whether a channel follows the engine's load, where the log can show it. */
export function followsLoad(drive: Drive, channel: Channel): boolean | undefined {
  const least = FOLLOWERS.find(({ id }) => id === channel.id)?.least;
  const activity = activityFor(drive, channel.id);
  if (!activity || least === undefined) return undefined;
  const ignores = ignoresLoad(channel, activity, least);
  return ignores === undefined ? undefined : !ignores;
}

function stuckDoubt(drive: Drive, channel: Channel, activity: Activity, follower: Follower): Doubt | undefined {
  const { id, least, inPull } = follower;
  const still = stillSpans(channel, activity);
  const isNoisy = still.length === 0 && least !== undefined && ignoresLoad(channel, activity, least) === true;
  const where = isNoisy ? [wholeOf(channel)] : still;
  if (where.length === 0) return undefined;
  const longest = where.reduce((a, b) => (secondsOf(b) > secondsOf(a) ? b : a));
  const pullS = where.reduce((sum, span) => sum + overlapS(span, drive.pulls), 0);
  const level = formatQuantity(median(valuesIn(channel, [longest], longest)), channelEntry(id).unit);
  const span = `from ${formatQuantity(longest.startS, 's')} to ${formatQuantity(longest.endS, 's')}`;
  const shutS = formatQuantity(overlapS(longest, activity.closed), 's');
  const wideS = formatQuantity(overlapS(longest, activity.wide), 's');
  return {
    gravity: pullS >= LEAST_S ? inPull : 'warn',
    channels: [id],
    short: `${channelName(id)} stood still`,
    said: [
      sentence(
        `${channelName(id)} ${isNoisy ? `stayed within noise of ${level}` : `read ${level} without any change`} ${span}. In that time ${channelName(activity.by)} was shut for ${shutS} and wide open for ${wideS} with the engine running; a working sensor cannot read the same in both.`,
      ),
      ...(pullS >= LEAST_S
        ? [`That covers ${formatQuantity(pullS, 's')} of full-load pulls: nothing in them can be judged by it.`]
        : []),
    ],
    where,
    measured: { value: secondsOf(longest), unit: 's', mark: 2 * LEAST_S },
    next: NEXT[id] ?? [
      `Check the sensor, plug and wiring for ${channelName(id)}, and that the mapping names the right column.`,
    ],
  };
}

/** A throttle that need not follow the pedal (a diesel's) is not judged. */
const need = (drive: Drive, id: ChannelId) => id !== 'throttle_position' || isThrottled(drive) === true;

/** Channels that did not change between a shut and a wide open throttle. */
export function stuckByLoad(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const checked: string[] = [];
  const doubts: Doubt[] = [];
  for (const follower of FOLLOWERS) {
    const channel = drive.recording.channels.get(follower.id);
    const activity = activityFor(drive, follower.id);
    if (!channel || !activity || isSkipped(follower.id) || !need(drive, follower.id)) continue;
    const whole = wholeOf(channel);
    if (overlapS(whole, activity.closed) < LEAST_S || overlapS(whole, activity.wide) < LEAST_S) continue;
    checked.push(channelName(follower.id));
    const doubt = stuckDoubt(drive, channel, activity, follower);
    if (doubt) doubts.push(doubt);
  }
  return { checked, doubts };
}
