import { median } from '../../signal/median.ts';
import { type BoostBin, binColumns } from './bins.ts';
import { lineAt, robustLine } from './line.ts';
import { levelNearEnd } from './settling.ts';
import { findSwing, type Swing } from './swing.ts';

/** Swinging about the robust line of everything after boost first came up. */
export function swingOf(bins: readonly BoostBin[], from: number, noiseKpa: number): Swing | undefined {
  const rest = bins.slice(from);
  if (rest.length < 6) return undefined;
  const { rpm, boostKpa } = binColumns(bins);
  const line = robustLine(rpm.subarray(from), boostKpa.subarray(from));
  const error = (1.2533 * noiseKpa) / Math.sqrt(median(rest.map((bin) => bin.count)));
  const depart = rest.map((bin) => bin.boostKpa - lineAt(line, bin.rpm));
  const time = rest.map((bin) => bin.timeS);
  return findSwing(time, depart, Math.max(5 * error, 1.5, 0.02 * levelNearEnd(rest)));
}

/** Whether boost was still going up when the pull ended. */
export function isClimbing(bins: readonly BoostBin[], first: number): boolean {
  const pull = bins.slice(first);
  const third = Math.max(1, Math.floor(pull.length / 3));
  const ends = (part: readonly BoostBin[]) => median(part.map((bin) => bin.boostKpa));
  const few = Math.max(1, Math.min(3, third));
  const endKpa = ends(pull.slice(-few));
  const before = ends(pull.slice(-third - few, -third));
  const top = Math.max(...pull.map((bin) => bin.boostKpa));
  const least = Math.max(3, 0.03 * endKpa);
  const last = Math.max(...pull.slice(-2).map((bin) => bin.boostKpa));
  return endKpa - before > least && last > top - 0.5 * least;
}

/** Gain over the upper half of the pull's speed range, kPa. */
export function lateClimb(bins: readonly BoostBin[], first: number): number {
  const pull = bins.slice(first);
  const middle = (pull[0].rpm + pull[pull.length - 1].rpm) / 2;
  const from = pull.find((bin) => bin.rpm >= middle) ?? pull[0];
  return pull[pull.length - 1].boostKpa - from.boostKpa;
}
