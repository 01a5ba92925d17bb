import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { inRegime, regimeAt } from '../regime-at.ts';
import type { RetardRise } from './events.ts';
import type { RetardTrack } from './tracks.ts';

/** What a rise of retard is, and in which pull it lies. */
export interface RetardEvent extends RetardRise {
  readonly kind: 'knock' | 'torque-management' | 'elsewhere';
  readonly pull: Pull | undefined;
  /** Why it is no knock, in one clause; where it happened, for one elsewhere. */
  readonly why: string | undefined;
}

/** Retard this close to a lift or gear change belongs to it. */
const EDGE_S = 0.3;
const THROTTLE_CLOSES_BY = 8;
const THROTTLE_LOOK_S = 0.35;
const THROTTLE_BEFORE_S = 0.5;
const OTHERS_SHARE = 0.4;

const edgeOf = (rise: RetardRise) => Math.max(EDGE_S, rise.track.rateHz > 0 ? 1.2 / rise.track.rateHz : 0);

function valueNear({ time, values }: RetardTrack, atS: number, withinS: number): number {
  const from = indexAtOrAfter(time, atS - withinS);
  let highest = Number.NEGATIVE_INFINITY;
  for (let i = from; i < time.length && time[i] <= atS + withinS; i++) highest = Math.max(highest, values[i]);
  return highest;
}

/** Whether at least half of the other tracks show a good part of this rise at the same time; one track alone stands for all. */
function onAllTracks(rise: RetardRise, tracks: readonly RetardTrack[]): boolean {
  const others = tracks.filter((track) => track !== rise.track);
  const along = others.filter((track) => {
    const nearS = Math.max(0.15, track.rateHz > 0 ? 1.4 / track.rateHz : 0);
    return valueNear(track, rise.peakS, nearS) >= OTHERS_SHARE * rise.peakDeg;
  });
  return along.length >= others.length / 2;
}

/** One cylinder alone among several that are logged: what the engine controller takes for a lift or a shift, it takes from all of them. */
const NOTHING_SHARE = 0.15;
const NEAR_ALONE_S = 0.3;

function isAlone(rise: RetardRise, tracks: readonly RetardTrack[]): boolean {
  const others = tracks.filter((track) => track !== rise.track);
  return (
    others.length > 0 &&
    others.every((track) => {
      const nearS = NEAR_ALONE_S + (track.rateHz > 0 ? 1.4 / track.rateHz : 0);
      return valueNear(track, rise.peakS, nearS) < NOTHING_SHARE * rise.peakDeg;
    })
  );
}

/** How far throttle or pedal closes as the rise begins, inside the pull, points of opening, with its name. */
function closing(drive: Drive, rise: RetardRise, pull: Pull): { points: number; what: string } | undefined {
  for (const [id, what] of [
    ['throttle_position', 'throttle'],
    ['accelerator_position', 'pedal'],
  ] as const) {
    const channel = drive.recording.channels.get(id);
    if (!channel) continue;
    const { time, values, rateHz } = channel;
    const lookS = Math.max(THROTTLE_LOOK_S, rateHz > 0 ? 1 / rateHz : 0);
    const beforeS = Math.max(THROTTLE_BEFORE_S, rateHz > 0 ? 1.2 / rateHz : 0);
    const untilS = Math.min(pull.endS, rise.onsetS + lookS) + 1e-9;
    let before = Number.NEGATIVE_INFINITY;
    let lowest = Number.POSITIVE_INFINITY;
    for (let i = indexAtOrAfter(time, Math.max(pull.startS, rise.onsetS - beforeS)); time[i] <= untilS; i++) {
      if (time[i] <= rise.onsetS + 1e-9) before = Math.max(before, values[i]);
      if (time[i] >= rise.onsetS - lookS) lowest = Math.min(lowest, values[i]);
    }
    if (before - lowest >= THROTTLE_CLOSES_BY) return { points: before - lowest, what };
  }
  return undefined;
}

const ENDS: Partial<Record<Pull['endedBy'], string>> = {
  lift: 'it comes with the lift at the end of the pull',
  'gear-change': 'it comes with the gear change at the end of the pull',
  limiter: 'it comes with the limiter at the end of the pull',
};

function manageReason(drive: Drive, rise: RetardRise, pull: Pull, tracks: readonly RetardTrack[]): string | undefined {
  const edgeS = edgeOf(rise);
  const ended = ENDS[pull.endedBy];
  if (ended && rise.onsetS >= pull.endS - edgeS && onAllTracks(rise, tracks)) return ended;
  const afterChange =
    inRegime(drive, pull.startS - 0.1, 'gear-change') ||
    drive.pulls.some((p) => p.endedBy === 'gear-change' && p.endS < pull.startS && pull.startS - p.endS < 1.5);
  if (afterChange && rise.onsetS <= pull.startS + edgeS && onAllTracks(rise, tracks))
    return 'it comes with the gear change before the pull';
  if (onAllTracks(rise, tracks)) {
    const closed = closing(drive, rise, pull);
    if (closed)
      return `the ${closed.what} closes by ${closed.points.toFixed(0)} points at the same time (traction or torque limit)`;
  }
  return undefined;
}

const OUTSIDE: Partial<Record<string, string>> = {
  pull: 'a pull that is not judged',
  'gear-change': 'gear change',
  lift: 'throttle lift',
  'fuel-cut': 'overrun',
  idle: 'idle',
  'engine-off': 'engine off',
  transient: 'changing load',
  cruise: 'part load',
};

/** Tells knock from torque management, and what lies outside the pulls. */
export function classifyRise(
  drive: Drive,
  judged: readonly Pull[],
  rise: RetardRise,
  tracks: readonly RetardTrack[],
): RetardEvent {
  const pull = judged.find((p) => rise.peakS >= p.startS - 1e-9 && rise.peakS <= p.endS + 1e-9);
  if (!pull) {
    const near = judged.find(
      (p) => Math.abs(rise.onsetS - p.endS) <= edgeOf(rise) || (rise.onsetS < p.endS && rise.peakS > p.endS),
    );
    if (near && isAlone(rise, tracks)) {
      return { ...rise, kind: 'knock', pull: near, why: undefined };
    }
    const regime = regimeAt(drive, rise.peakS);
    const managed =
      near !== undefined || (regime !== undefined && ['gear-change', 'lift', 'fuel-cut', 'idle'].includes(regime));
    const why = near && ENDS[near.endedBy] ? ENDS[near.endedBy] : (OUTSIDE[regime ?? ''] ?? 'outside the pulls');
    return { ...rise, kind: managed ? 'torque-management' : 'elsewhere', pull: undefined, why };
  }
  const why = manageReason(drive, rise, pull, tracks);
  return { ...rise, kind: why ? 'torque-management' : 'knock', pull, why };
}
