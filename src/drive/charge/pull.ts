import { oncePer } from '../../kernel/once-per.ts';
import { runningMedian } from '../../signal/local-level.ts';
import { median } from '../../signal/median.ts';
import { sampleNoise } from '../../signal/sample-noise.ts';
import { theilSen } from '../../signal/theil-sen.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import type { CleanTemperature } from './clean.ts';
import { heldMaximum } from './held.ts';

/** Charge temperature in one pull, °C and K. */
export interface ChargePull {
  readonly pull: Pull;
  readonly startC: number;
  readonly peakC: number;
  readonly low: number;
  readonly high: number;
  readonly atS: number;
  readonly rpm: number;
  readonly riseK: number;
  /** Slope over the last part of the pull, K/s, with its interval; nothing where too few readings. */
  readonly slope: { readonly perS: number; readonly low: number; readonly high: number } | undefined;
  readonly recovery: Recovery;
  /** Follows the pull before it at once, in the next gear: one effort, with no time to cool between. */
  readonly isContinued: boolean;
  readonly updates: number;
}

/** How the charge cools down after a pull. */
export interface Recovery {
  /** From the end of the pull until half of the rise was gone, s; nothing where it was not seen. */
  readonly halfS: number | undefined;
  /** First-order time constant that this is, s. */
  readonly tauS: number | undefined;
  /** What was left of the rise when the next pull began (or the log ended), K. */
  readonly leftK: number | undefined;
  readonly watchedS: number;
  /** What there was to lose, K. */
  readonly riseK: number;
}

/** The sensor answers late: readings this long after the lift still belong to the pull, s. Common practice, no source. */
const AFTER_S = 1.5;
const HOLD_S = 0.5;
const SMOOTHING_S = 1;
const SLOPE_S = 2;
/** A rise smaller than this has no recovery worth a number, K. */
const LEAST_RISE_K = 5;
/** Pulls closer together than this are one effort over several gears, s. */
const AT_ONCE_S = 4;

function levelNear(time: Float64Array, values: Float64Array, atS: number, fromS: number, toS: number): number {
  const from = indexAtOrAfter(time, atS + fromS);
  const to = indexAtOrAfter(time, atS + toS + 1e-9);
  if (to > from) return median(values.subarray(from, to));
  const i = Math.min(time.length - 1, Math.max(0, indexAtOrAfter(time, atS)));
  const k = i > 0 && atS - time[i - 1] < time[i] - atS ? i - 1 : i;
  return values[k];
}

const UNSEEN: Recovery = { halfS: undefined, tauS: undefined, leftK: undefined, watchedS: 0, riseK: 0 };

function recoveryOf(t: CleanTemperature, pull: Pull, startC: number, peakC: number, untilS: number): Recovery {
  const riseK = peakC - startC;
  const from = indexAtOrAfter(t.time, pull.endS);
  const to = indexAtOrAfter(t.time, untilS);
  if (to - from < 2) return UNSEEN;
  const watchedS = t.time[to - 1] - pull.endS;
  const leftK = levelNear(t.time, t.values, t.time[to - 1], -1, 0) - startC;
  let top = from;
  for (let i = from; i < to && t.time[i] <= pull.endS + 2 * AFTER_S; i++) if (t.values[i] > t.values[top]) top = i;
  let halfS: number | undefined;
  for (let i = top + 1; riseK >= LEAST_RISE_K && i < to; i++) {
    if (t.values[i] > startC + riseK / 2) continue;
    halfS = t.time[i] - t.time[top];
    break;
  }
  return { halfS, tauS: halfS === undefined ? undefined : halfS / Math.LN2, leftK, watchedS, riseK };
}

/** Start, held peak, rise and slope of one pull; nothing where the log has too few readings around it. */
function chargePull(
  drive: Drive,
  t: CleanTemperature,
  pull: Pull,
  nextStartS: number,
): Omit<ChargePull, 'recovery' | 'isContinued'> | undefined {
  const endS = Math.min(pull.endS + AFTER_S, nextStartS);
  const from = indexAtOrAfter(t.time, pull.startS - 1e-9);
  const to = indexAtOrAfter(t.time, endS + 1e-9);
  if (to - from < 2 || !(t.rateHz > 0)) return undefined;
  const time = t.time.subarray(from, to);
  const raw = t.values.subarray(from, to);
  const values = t.rateHz >= 4 ? runningMedian(time, raw, SMOOTHING_S) : raw;
  const held = heldMaximum(time, values, HOLD_S, t.gapS);
  if (!held) return undefined;
  const half = (1.96 * 1.25 * sampleNoise(raw)) / Math.sqrt(Math.max(1, SMOOTHING_S * t.rateHz)) + t.step / 2;
  const startC = levelNear(t.time, t.values, pull.startS, -1, 0.2);
  const late = indexAtOrAfter(time, pull.endS - SLOPE_S);
  const lateEnd = indexAtOrAfter(time, pull.endS + 1e-9);
  const line = lateEnd - late >= 4 ? theilSen(time.subarray(late, lateEnd), raw.subarray(late, lateEnd)) : undefined;
  const atS = Math.min(pull.endS, held.startS);
  const peakC = Math.max(held.value, startC);
  return {
    pull,
    startC,
    peakC,
    low: peakC - half,
    // Between two readings a rising charge goes on rising.
    high: peakC + half + (line ? Math.max(0, line.slope) : 0) * Math.min(1, 1 / t.rateHz),
    atS,
    rpm: engineSpeedAt(drive, Float64Array.of(atS))[0],
    riseK: peakC - startC,
    slope: line && { perS: line.slope, low: line.slopeLow, high: line.slopeHigh },
    updates: to - from,
  };
}

/** Every usable pull in turn, measured once. Recovery is that of a whole effort, seen from where its first pull began. */
export function chargePulls(drive: Drive, t: CleanTemperature): readonly ChargePull[] {
  return pullsOf(drive)(t);
}

const pullsOf = oncePer((drive: Drive) => oncePer((t: CleanTemperature) => measurePulls(drive, t)));

function measurePulls(drive: Drive, t: CleanTemperature): ChargePull[] {
  const found: ChargePull[] = [];
  let effort = { startC: Number.NaN, peakC: Number.NaN };
  for (const [at, pull] of drive.pulls.entries()) {
    if (!pull.usable) continue;
    const nextStartS = drive.pulls[at + 1]?.startS ?? drive.recording.durationS + 1;
    const measured = chargePull(drive, t, pull, nextStartS);
    if (!measured) continue;
    const last = found[found.length - 1];
    const isContinued = last !== undefined && pull.startS - last.pull.endS < AT_ONCE_S;
    effort = isContinued
      ? { startC: effort.startC, peakC: Math.max(effort.peakC, measured.peakC) }
      : { startC: measured.startC, peakC: measured.peakC };
    const isFollowed = nextStartS - pull.endS < AT_ONCE_S;
    const recovery = isFollowed ? UNSEEN : recoveryOf(t, pull, effort.startC, effort.peakC, nextStartS);
    found.push({ ...measured, isContinued, recovery });
  }
  return found;
}
