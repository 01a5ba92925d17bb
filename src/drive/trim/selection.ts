import { alignedChannel } from '../align.ts';
import { type Drive, REGIME_CODE } from '../drive.ts';
import { regimesAt, samplesIn } from '../regime-at.ts';
import { levelAt, type TrimBank, type TrimGrid } from './grid.ts';
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

/** Whether the trim of any bank is known at a grid time. */
function isRead(banks: readonly TrimBank[], i: number): boolean {
  for (const { total } of banks) if (Number.isFinite(total[i])) return true;
  return false;
}

/** Sorts every moment of the log: judged, or left out and why. */
export function trimSelection(drive: Drive, grid: TrimGrid): TrimSelection {
  const { recording } = drive;
  const { time, banks } = grid;
  const speed = recording.channels.get('engine_speed');
  const rpm = speed ? levelAt(speed, time) : new Float64Array(time.length).fill(Number.NaN);
  const regime = regimesAt(drive, time, Number.POSITIVE_INFINITY);
  const running = time.length - samplesIn(regime, REGIME_CODE['engine-off']);
  const believeCut = samplesIn(regime, REGIME_CODE['fuel-cut']) <= MOST_FUEL_CUT * running;
  const warm = warmth(recording, time, rpm);
  const loop = closedLoop(recording, grid);
  const steady = steadiness(recording, time, rpm);
  const load = drive.load && alignedChannel(recording, drive.load.channel, time);
  const fullLoad = drive.load?.full ?? Number.POSITIVE_INFINITY;
  const reason = new Uint8Array(time.length);
  const idle = new Uint8Array(time.length);
  let fullS = Number.NEGATIVE_INFINITY;
  let cutS = Number.NEGATIVE_INFINITY;
  let changeS = Number.NEGATIVE_INFINITY;
  for (let i = 0, n = time.length; i < n; i++) {
    const now = time[i];
    const doing = regime[i];
    if (doing === REGIME_CODE.pull || (load !== undefined && load[i] >= fullLoad)) fullS = now;
    if (doing === REGIME_CODE['fuel-cut'] && believeCut) cutS = now;
    else if (doing === REGIME_CODE['gear-change']) changeS = now;
    else if (doing === REGIME_CODE.idle) idle[i] = 1;
    reason[i] =
      doing === REGIME_CODE['engine-off']
        ? TRIM_CODE['engine off']
        : !isRead(banks, i)
          ? TRIM_CODE['trim not read']
          : !warm.warm[i]
            ? TRIM_CODE['engine cold']
            : now - fullS <= RECOVERY_S.pull
              ? TRIM_CODE['full load and 2 s after']
              : now - cutS <= RECOVERY_S['fuel-cut']
                ? TRIM_CODE['fuel cut and 2 s after']
                : now - changeS <= RECOVERY_S['gear-change']
                  ? TRIM_CODE['gear change and 1.5 s after']
                  : !loop.closed[i]
                    ? TRIM_CODE['open loop and 2 s after']
                    : !steady[i]
                      ? TRIM_CODE['transient and 1.5 s after']
                      : TRIM_CODE.kept;
  }
  return { reason, rpm, idle, loop, warmth: warm };
}

/** Seconds of the log by reason, in the order of `TRIM_REASONS`. */
export function secondsByReason(reason: Uint8Array, stepS: number): { reason: TrimReason; seconds: number }[] {
  const counts = new Array<number>(TRIM_REASONS.length).fill(0);
  for (let i = 0, n = reason.length; i < n; i++) counts[reason[i]]++;
  return TRIM_REASONS.map((name, i) => ({ reason: name, seconds: counts[i] * stepS }));
}
