import type { Recording } from '../../channels/recording.ts';
import { alignedChannel } from '../align.ts';
import { type Drive, REGIMES, type Regime } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { levelAt, type TrimGrid } from './grid.ts';
import { closedLoop, type Loop } from './loop.ts';
import { steadiness } from './steady.ts';
import { type Warmth, warmth } from './warm.ts';

/** Why a moment is not judged, first that applies. `kept` is judged. */
export const TRIM_REASONS = [
  'kept',
  'engine off',
  'trim not read',
  'engine cold',
  'full load and 2 s after',
  'fuel cut and 2 s after',
  'gear change and 1.5 s after',
  'open loop and 2 s after',
  'transient and 1.5 s after',
  'purge-like step',
] as const;
export type TrimReason = (typeof TRIM_REASONS)[number];
export const TRIM_CODE = Object.fromEntries(TRIM_REASONS.map((reason, i) => [reason, i])) as Record<TrimReason, number>;

/** Recovery after each regime, s. Common practice, no source. */
const RECOVERY_S = { pull: 2, 'fuel-cut': 2, 'gear-change': 1.5 } as const;
/** Overrun cannot be most of a drive: beyond this share the label is not believed. */
const MOST_FUEL_CUT = 0.5;

export interface TrimSelection {
  /** Per grid time: index into `TRIM_REASONS`. */
  readonly reason: Uint8Array;
  readonly rpm: Float64Array;
  readonly idle: Uint8Array;
  readonly loop: Loop;
  readonly warmth: Warmth;
}

function regimeOnGrid(drive: Drive, time: Float64Array): (Regime | undefined)[] {
  return Array.from(time, (atS) => {
    const after = Math.min(indexAtOrAfter(drive.time, atS), drive.time.length - 1);
    const nearest = after > 0 && atS - drive.time[after - 1] < drive.time[after] - atS ? after - 1 : after;
    return REGIMES[drive.regime[nearest]];
  });
}

/** Per grid time, 1 in the regime and for `afterS` after it. */
function withRecovery(time: Float64Array, at: (i: number) => boolean, afterS: number): Uint8Array {
  const out = new Uint8Array(time.length);
  let lastS = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < time.length; i++) {
    if (at(i)) lastS = time[i];
    if (time[i] - lastS <= afterS) out[i] = 1;
  }
  return out;
}

function fullLoadMask(drive: Drive, recording: Recording, time: Float64Array, regime: (Regime | undefined)[]) {
  const level = drive.load && alignedChannel(recording, drive.load.channel, time);
  const full = drive.load?.full ?? Number.POSITIVE_INFINITY;
  return withRecovery(time, (i) => regime[i] === 'pull' || (level !== undefined && level[i] >= full), RECOVERY_S.pull);
}

/** Sorts every moment of the log: judged, or left out and why. */
export function trimSelection(drive: Drive, grid: TrimGrid): TrimSelection {
  const { recording } = drive;
  const { time } = grid;
  const speed = recording.channels.get('engine_speed');
  const rpm = speed ? levelAt(speed, time) : new Float64Array(time.length).fill(Number.NaN);
  const regime = regimeOnGrid(drive, time);
  const running = regime.filter((r) => r !== 'engine-off').length;
  const cuts = regime.filter((r) => r === 'fuel-cut').length;
  const believeCut = cuts <= MOST_FUEL_CUT * running;
  const warm = warmth(recording, time, rpm);
  const loop = closedLoop(recording, grid);
  const steady = steadiness(recording, time, rpm);
  const full = fullLoadMask(drive, recording, time, regime);
  const cut = withRecovery(time, (i) => believeCut && regime[i] === 'fuel-cut', RECOVERY_S['fuel-cut']);
  const change = withRecovery(time, (i) => regime[i] === 'gear-change', RECOVERY_S['gear-change']);
  const reason = new Uint8Array(time.length);
  for (let i = 0; i < time.length; i++) {
    const known = grid.banks.some((bank) => Number.isFinite(bank.total[i]));
    const why: TrimReason =
      regime[i] === 'engine-off'
        ? 'engine off'
        : !known
          ? 'trim not read'
          : !warm.warm[i]
            ? 'engine cold'
            : full[i]
              ? 'full load and 2 s after'
              : cut[i]
                ? 'fuel cut and 2 s after'
                : change[i]
                  ? 'gear change and 1.5 s after'
                  : !loop.closed[i]
                    ? 'open loop and 2 s after'
                    : !steady[i]
                      ? 'transient and 1.5 s after'
                      : 'kept';
    reason[i] = TRIM_CODE[why];
  }
  const idle = Uint8Array.from(regime, (r) => (r === 'idle' ? 1 : 0));
  return { reason, rpm, idle, loop, warmth: warm };
}

/** Seconds of the log by reason, in the order of `TRIM_REASONS`. */
export function secondsByReason(reason: Uint8Array, stepS: number): { reason: TrimReason; seconds: number }[] {
  const counts = new Array<number>(TRIM_REASONS.length).fill(0);
  for (const code of reason) counts[code]++;
  return TRIM_REASONS.map((name, i) => ({ reason: name, seconds: counts[i] * stepS }));
}
