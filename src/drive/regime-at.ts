import { type Drive, REGIMES, type Regime } from './drive.ts';
import { indexAtOrAfter } from './pull-series.ts';

/** What the car was doing at a time: the regime of the nearest engine-speed sample; nothing before, after or without any. */
export function regimeAt(drive: Drive, atS: number): Regime | undefined {
  const { time, regime } = drive;
  if (time.length === 0 || atS < time[0] - 1 || atS > time[time.length - 1] + 1) return undefined;
  const after = Math.min(indexAtOrAfter(time, atS), time.length - 1);
  const nearest = after > 0 && atS - time[after - 1] < time[after] - atS ? after - 1 : after;
  return REGIMES[regime[nearest]];
}

/** Index into `REGIMES` of the nearest engine-speed sample for each of many ascending times, as `regimeAt` tells it; 255 for nothing. */
export function regimesAt(drive: Drive, at: Float64Array): Uint8Array {
  const { time, regime } = drive;
  if (at === time) return regime;
  const found = new Uint8Array(at.length).fill(255);
  const last = time.length - 1;
  let after = 0;
  for (let i = 0; i < at.length; i++) {
    const t = at[i];
    while (after < last && time[after] < t) after++;
    if (last < 0 || t < time[0] - 1 || t > time[last] + 1) continue;
    found[i] = regime[after > 0 && t - time[after - 1] < time[after] - t ? after - 1 : after];
  }
  return found;
}

/** Whether the car was in one of the given regimes at a time. */
export function inRegime(drive: Drive, atS: number, ...wanted: readonly Regime[]): boolean {
  const regime = regimeAt(drive, atS);
  return regime !== undefined && wanted.includes(regime);
}
