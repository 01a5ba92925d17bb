import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { quantile } from '../../signal/quantile.ts';
import { workspace } from '../../signal/working-copy.ts';
import { bridgeableGapS } from '../align.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive } from '../drive.ts';
import { sustainedTop } from '../load-signal.ts';
import { type Span, secondsOf } from './doubt.ts';

/** Where a running engine was throttled shut and where it was wide open: what follows load must differ between the two. */
export interface Activity {
  readonly by: ChannelId;
  readonly closed: readonly Span[];
  readonly wide: readonly Span[];
  /** From each end of one state to the next beginning of the other. */
  readonly changes: readonly Span[];
}

/** Marks of the two states, % opening and rpm. Common practice, no source. */
const CLOSED_ABOVE_REST = 5;
const WIDE_FROM = 60;
const WIDE_SHARE = 0.6;
const LEAST_TRAVEL = 40;
const RUNNING_RPM = 500;
const WIDE_RPM = 1500;
/** Everything that follows load has followed after this, s; a slow log needs its own time too. */
const SETTLES_S = 0.7;

/** Unbroken stretches shut (`shutTo` or less) and wide open (`wideFrom` or more) with the engine running, the first of each left out until all has followed. */
function stretchesOf(channel: Channel, rpm: Float64Array, shutTo: number, wideFrom: number): Omit<Activity, 'by'> {
  const { time, values } = channel;
  const gapS = bridgeableGapS(channel);
  const closed: Span[] = [];
  const wide: Span[] = [];
  const changes: Span[] = [];
  let state: Span[] | undefined;
  let from = 0;
  let last: { readonly state: Span[]; readonly endS: number } | undefined;
  for (let i = 0; i <= time.length; i++) {
    const value = values[i];
    const now =
      value <= shutTo && rpm[i] > RUNNING_RPM ? closed : value >= wideFrom && rpm[i] > WIDE_RPM ? wide : undefined;
    if (now === state && (!now || time[i] - time[i - 1] <= gapS)) continue;
    const span = { startS: time[from] + SETTLES_S, endS: time[i - 1] };
    if (state && secondsOf(span) > 0) {
      state.push(span);
      if (last && last.state !== state) changes.push({ startS: last.endS, endS: span.startS });
      last = { state, endS: span.endS };
    }
    state = now;
    from = i;
  }
  return { closed, wide, changes };
}

function activityBy(drive: Drive, channel: Channel): Activity | undefined {
  if (channel.values.length < 10 || channel.max - channel.min < LEAST_TRAVEL) return undefined;
  const top = sustainedTop(channel.values);
  const rest = quantile(channel.values, 0.02);
  if (top - rest < LEAST_TRAVEL) return undefined;
  const wideFrom = Math.max(Math.min(WIDE_FROM, 0.9 * top), rest + WIDE_SHARE * (top - rest));
  const rpm = engineSpeedAt(drive, channel.time);
  return { by: channel.id, ...stretchesOf(channel, rpm, rest + CLOSED_ABOVE_REST, wideFrom) };
}

const TELLERS = ['accelerator_position', 'throttle_position', 'calculated_load'] as const;

const activityOf = oncePer((drive: Drive) => oncePer((channel: Channel) => activityBy(drive, channel)));

/** The engine's load as told by pedal, else throttle, else load, never by the channel in question. */
export function activityFor(drive: Drive, questioned: ChannelId): Activity | undefined {
  for (const id of TELLERS) {
    const channel = id === questioned ? undefined : drive.recording.channels.get(id);
    const activity = channel && activityOf(drive)(channel);
    if (activity) return activity;
  }
  return undefined;
}

const roomForRunning = workspace();

/** Manifold pressure below this share of the air pressure shows a throttle that throttles. */
const THROTTLED_SHARE = 0.75;

/**
 * Whether the engine's load is set by its throttle (not so in a diesel, whose manifold never falls below the air
 * pressure); by manifold pressure, else by having fuel trims; undefined where nothing tells.
 */
export const isThrottled = oncePer((drive: Drive): boolean | undefined => {
  const { channels, barometric } = drive.recording;
  const manifold = channels.get('manifold_pressure');
  if (manifold && manifold.values.length >= 5 && manifold.max > manifold.min) {
    const rpm = engineSpeedAt(drive, manifold.time);
    const running = roomForRunning(rpm.length);
    let count = 0;
    for (let i = 0, n = rpm.length; i < n; i++) if (rpm[i] > RUNNING_RPM) running[count++] = manifold.values[i];
    if (count >= 5) return quantile(running.subarray(0, count), 0.05) < THROTTLED_SHARE * barometric.kpa;
  }
  return channels.has('short_term_fuel_trim_1') || channels.has('long_term_fuel_trim_1') ? true : undefined;
});
