import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { quantile } from '../../signal/quantile.ts';
import { runsWhere } from '../../signal/runs.ts';
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

function spansWhere(channel: Channel, isIn: (i: number) => boolean): Span[] {
  const { time } = channel;
  const gapS = bridgeableGapS(channel);
  const spans: Span[] = [];
  for (const { start, end } of runsWhere(time.length, isIn)) {
    let from = start;
    for (let i = start + 1; i <= end; i++) {
      if (i < end && time[i] - time[i - 1] <= gapS) continue;
      const span = { startS: time[from] + SETTLES_S, endS: time[i - 1] };
      if (secondsOf(span) > 0) spans.push(span);
      from = i;
    }
  }
  return spans;
}

function activityBy(drive: Drive, channel: Channel): Activity | undefined {
  if (channel.values.length < 10) return undefined;
  const top = sustainedTop(channel.values);
  const rest = quantile(channel.values, 0.02);
  if (top - rest < LEAST_TRAVEL) return undefined;
  const wideFrom = Math.max(Math.min(WIDE_FROM, 0.9 * top), rest + WIDE_SHARE * (top - rest));
  const rpm = engineSpeedAt(drive, channel.time);
  return {
    by: channel.id,
    closed: spansWhere(channel, (i) => channel.values[i] <= rest + CLOSED_ABOVE_REST && rpm[i] > RUNNING_RPM),
    wide: spansWhere(channel, (i) => channel.values[i] >= wideFrom && rpm[i] > WIDE_RPM),
  };
}

const TELLERS = ['accelerator_position', 'throttle_position', 'calculated_load'] as const;

const byTeller = oncePer((drive: Drive) => {
  const found = TELLERS.map((id) => {
    const channel = drive.recording.channels.get(id);
    return channel && activityBy(drive, channel);
  });
  return found.filter((activity) => activity !== undefined);
});

/** The engine's load as told by pedal, else throttle, else load, never by the channel in question. */
export function activityFor(drive: Drive, questioned: ChannelId): Activity | undefined {
  return byTeller(drive).find((activity) => activity.by !== questioned);
}

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
    const running = new Float64Array(rpm.length);
    let count = 0;
    for (let i = 0; i < rpm.length; i++) if (rpm[i] > RUNNING_RPM) running[count++] = manifold.values[i];
    if (count >= 5) return quantile(running.subarray(0, count), 0.05) < THROTTLED_SHARE * barometric.kpa;
  }
  return channels.has('short_term_fuel_trim_1') || channels.has('long_term_fuel_trim_1') ? true : undefined;
});
