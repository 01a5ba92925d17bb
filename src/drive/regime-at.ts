import { type Drive, REGIMES, type Regime } from './drive.ts';
import { indexAtOrAfter } from './pull-series.ts';

/** A time this far before the first or after the last engine-speed sample has no regime, s. */
const REACH_S = 1;

/** What the car was doing at a time: the regime of the nearest engine-speed sample; nothing before, after or without any. */
export function regimeAt(drive: Drive, atS: number): Regime | undefined {
  const { time, regime } = drive;
  if (time.length === 0 || atS < time[0] - REACH_S || atS > time[time.length - 1] + REACH_S) return undefined;
  const after = Math.min(indexAtOrAfter(time, atS), time.length - 1);
  const nearest = after > 0 && atS - time[after - 1] < time[after] - atS ? after - 1 : after;
  return REGIMES[regime[nearest]];
}

/**
 * Index into `REGIMES` of the nearest engine-speed sample for each of many ascending times; 255 for nothing: further than
 * `reachS` outside of them, or without any.
 */
export function regimesAt(drive: Drive, at: Float64Array, reachS = REACH_S): Uint8Array {
  const { time, regime } = drive;
  if (at === time) return regime;
  const found = new Uint8Array(at.length).fill(255);
  const last = time.length - 1;
  let after = 0;
  for (let i = 0, n = at.length; i < n; i++) {
    const t = at[i];
    while (after < last && time[after] < t) after++;
    if (last < 0 || t < time[0] - reachS || t > time[last] + reachS) continue;
    found[i] = regime[after > 0 && t - time[after - 1] < time[after] - t ? after - 1 : after];
  }
  return found;
}

/** Of each regime's code, whether it is one of these. */
export const amongRegimes = (...wanted: readonly Regime[]): readonly boolean[] =>
  REGIMES.map((regime) => wanted.includes(regime));

/** How many of the samples have the regime of this code. */
export function samplesIn(regime: Uint8Array, code: number): number {
  let count = 0;
  for (let i = 0, n = regime.length; i < n; i++) if (regime[i] === code) count++;
  return count;
}

/** Whether the car was in one of the given regimes at a time. */
export function inRegime(drive: Drive, atS: number, ...wanted: readonly Regime[]): boolean {
  const regime = regimeAt(drive, atS);
  return regime !== undefined && wanted.includes(regime);
}
