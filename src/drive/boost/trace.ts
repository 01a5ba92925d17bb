import { channelEntry } from '../../channels/catalogue.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { median } from '../../signal/median.ts';
import { picked } from '../../signal/picked.ts';
import { workspace } from '../../signal/working-copy.ts';
import type { Drive, Pull } from '../drive.ts';
import { cutSeries, indexAtOrAfter } from '../pull-series.ts';
import { gaugeBoost } from './gauge-boost.ts';

/** Gauge boost of one pull with some seconds before it, free of samples no manifold can produce. */
export interface BoostTrace {
  readonly time: Float64Array;
  /** kPa gauge. */
  readonly boost: Float64Array;
  readonly rpm: Float64Array;
  /** Index of the first sample inside the pull. */
  readonly first: number;
  readonly rateHz: number;
  /** Standard deviation of the sample-to-sample noise, kPa. */
  readonly noiseKpa: number;
  /** Smallest step between distinct values, kPa; 0 where unknown. */
  readonly stepKpa: number;
}

/** A single sample that left and came back faster than gas can. */
export interface Glitch {
  readonly timeS: number;
  readonly boostKpa: number;
  readonly jumpKpa: number;
}

/**
 * Fastest change of manifold pressure taken for real, kPa/s. A throttle opened at once fills a manifold at
 * several hundred kPa/s; a turbocharger is slower. Common practice, no source.
 */
export const FASTEST_KPA_PER_S = 1500;

/** Seconds before the pull in which the first rise may begin. */
const LOOK_BACK_S = 3;
/** The end of a pull is where the lift begins: this much of it is left out, s. */
const LIFT_GUARD_S = 0.08;

const roomForBends = workspace();

/**
 * Noise (standard deviation) from second differences, which a straight slope leaves at zero:
 * 1.4826·MAD(y[i−1] − 2y[i] + y[i+1]) / √6, not below the rounding of the channel (step/√12).
 */
export function noiseAroundSlope(values: ArrayLike<number>, stepKpa: number): number {
  const rounding = Math.max(0.05, stepKpa / Math.sqrt(12));
  if (values.length < 5) return Math.max(rounding, 0.5);
  const bends = roomForBends(values.length - 2);
  let [before, here] = [values[0], values[1]];
  for (let i = 0, n = bends.length; i < n; i++) {
    const after = values[i + 2];
    bends[i] = Math.abs(before - 2 * here + after);
    before = here;
    here = after;
  }
  return Math.max(rounding, (1.4826 * median(bends)) / Math.sqrt(6));
}

/** Below this rate the pull itself bends between samples, and the whole log tells the noise better, Hz. */
const FEW_PER_S = 25;

/** Sensor noise over the whole log, kPa. */
const noiseOfLog = oncePer((drive: Drive): number => {
  const boost = gaugeBoost(drive);
  const step = drive.recording.channels.get('manifold_pressure')?.step ?? 0;
  return noiseAroundSlope(boost?.values ?? [], step);
});

/** Sensor noise in a pull, kPa: at low rates not above 1.5 times that of the whole log. */
function noiseOf(drive: Drive, inPull: Float64Array, rateHz: number, stepKpa: number): number {
  const here = noiseAroundSlope(inPull, stepKpa);
  return rateHz >= FEW_PER_S ? here : Math.min(here, 1.5 * noiseOfLog(drive));
}

/** Marks single samples that jump from both neighbours, beyond noise and faster than `FASTEST_KPA_PER_S`. */
export function findGlitches(time: Float64Array, values: Float64Array, noiseKpa: number): number[] {
  const found: number[] = [];
  for (let i = 1; i < values.length - 1; i++) {
    const jump = values[i] - (values[i - 1] + values[i + 1]) / 2;
    const quicker = Math.min(time[i] - time[i - 1], time[i + 1] - time[i]);
    const possible = Math.max(8 * noiseKpa, FASTEST_KPA_PER_S * Math.max(quicker, 0.002));
    if (Math.abs(jump) > possible && Math.abs(values[i - 1] - values[i + 1]) < 0.3 * Math.abs(jump)) found.push(i);
  }
  return found;
}

/** Where the look-back of a pull may begin: the same stretch of log, and not inside the pull before. */
function lookBackFrom(drive: Drive, pull: Pull): number {
  const segment = drive.recording.segments.find((s) => pull.startS >= s.startS - 1e-9 && pull.startS <= s.endS + 1e-9);
  const before = drive.pulls.filter((other) => other.endS < pull.startS).map((other) => other.endS);
  return Math.max(pull.startS - LOOK_BACK_S, segment?.startS ?? 0, ...before);
}

/** Cuts a pull's boost with its look-back, and takes out implausible and impossible samples, which are told. */
export function pullTrace(drive: Drive, pull: Pull): { trace: BoostTrace; glitches: Glitch[] } | undefined {
  const boost = gaugeBoost(drive);
  const manifold = drive.recording.channels.get('manifold_pressure');
  if (!boost || !manifold) return undefined;
  const guardS = Math.max(LIFT_GUARD_S, Number.isFinite(boost.rateHz) ? Math.min(0.5 / boost.rateHz, 0.25) : 0);
  const endS = pull.endedBy === 'log-end' ? pull.endS : pull.endS - guardS;
  const fromS = lookBackFrom(drive, pull);
  const cut = cutSeries(boost, fromS, endS);
  const offset = indexAtOrAfter(boost.time, fromS - 1e-9);
  const [lowest, highest] = channelEntry('manifold_pressure').plausible;
  const inPull = cut.values.subarray(indexAtOrAfter(cut.time, pull.startS - 1e-9));
  const noiseKpa = noiseOf(drive, inPull, boost.rateHz, manifold.step);
  const odd = new Set(findGlitches(cut.time, cut.values, noiseKpa));
  const glitches: Glitch[] = [];
  const kept: number[] = [];
  for (let i = 0, n = cut.time.length; i < n; i++) {
    const pressure = manifold.values[offset + i];
    if (odd.has(i) || pressure < lowest || pressure > highest) {
      const beside = i > 0 ? cut.values[i - 1] : cut.values[i + 1];
      glitches.push({ timeS: cut.time[i], boostKpa: cut.values[i], jumpKpa: cut.values[i] - beside });
    } else if (Number.isFinite(cut.rpm[i])) kept.push(i);
  }
  const isWhole = kept.length === cut.time.length;
  const pick = (values: Float64Array) => (isWhole ? values : picked(values, kept));
  const time = pick(cut.time);
  const trace = {
    time,
    boost: pick(cut.values),
    rpm: pick(cut.rpm),
    first: indexAtOrAfter(time, pull.startS - 1e-9),
    rateHz: boost.rateHz,
    noiseKpa,
    stepKpa: manifold.step,
  };
  return { trace, glitches };
}
