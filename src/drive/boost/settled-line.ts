import type { BoostBin } from './bins.ts';
import { type BoostLine, fitBoostLine, lineAt, robustLine, type StraightLine } from './line.ts';
import type { Settling } from './settling.ts';
import type { BoostTrace } from './trace.ts';
import type { DyingTransient } from './transient.ts';

/** How the settled line runs from settling to the end of the pull, kPa. */
export interface SettledLine {
  /** From here on boost stays within 5 % of its settled line. */
  readonly settleS: number;
  readonly settleRpm: number;
  readonly endRpm: number;
  /** Level at settling and at the end of the pull, kPa gauge. */
  readonly levelKpa: number;
  readonly endKpa: number;
  /** End minus level, with its 95 % interval. */
  readonly riseKpa: number;
  readonly riseLow: number;
  readonly riseHigh: number;
  /** The line on which boost first settled, and the one it ends on where it bent in between. */
  readonly line: BoostLine;
  readonly last: BoostLine;
  readonly bent: boolean;
  /** Whether a transient still dying away was taken off the line. */
  readonly transientOff: boolean;
  readonly toleranceKpa: number;
  /** From here on boost is straight to within `toleranceKpa`: where the line begins. */
  readonly straightFromS: number;
}

/** Samples between two times; the first part of a long stretch is left out, where the transient may still be fading. */
function samplesBetween(trace: BoostTrace, startS: number, endS: number) {
  const trimmed = endS - startS > 1.2 ? startS + Math.min(0.5, 0.2 * (endS - startS)) : startS;
  let from = trace.first;
  while (from < trace.time.length - 3 && trace.time[from] < trimmed - 1e-6) from++;
  let to = from;
  while (to < trace.time.length && trace.time[to] <= endS + 1e-6) to++;
  const part = (values: Float64Array) => values.subarray(from, Math.max(to, from + 3));
  return { time: part(trace.time), rpm: part(trace.rpm), boost: part(trace.boost) };
}

function fitBetween(trace: BoostTrace, startS: number, endS: number): BoostLine {
  const { time, rpm, boost } = samplesBetween(trace, startS, endS);
  return fitBoostLine(time, rpm, boost, trace.noiseKpa);
}

/** The line from a bin to the last one, with whatever may be left of the first transient still on it. */
export function plainLine(trace: BoostTrace, bins: readonly BoostBin[], from: number): StraightLine {
  const { rpm, boost } = samplesBetween(trace, bins[from].timeS, bins[bins.length - 1].timeS);
  return robustLine(rpm, boost);
}

/** Share of the settled level within which boost counts as settled, as control textbooks have it (2 or 5 %). */
const SETTLED_SHARE = 0.05;

/** The first bin from which boost stays within 5 % of the line, going back from where it is straight. */
function settledFrom(bins: readonly BoostBin[], straightFrom: number, line: BoostLine, noiseKpa: number): number {
  let from = straightFrom;
  while (from > 0) {
    const { rpm, boostKpa, count } = bins[from - 1];
    const level = lineAt(line, rpm);
    const bandKpa = Math.max(2, SETTLED_SHARE * level, (3 * noiseKpa) / Math.sqrt(count));
    if (Math.abs(boostKpa - level) > bandKpa) return from;
    from--;
  }
  return from;
}

/** The settled line of a pull as numbers: level, end, rise, each from the robust line. */
export function settledLine(
  trace: BoostTrace,
  bins: readonly BoostBin[],
  settling: Settling,
  transient: DyingTransient | undefined,
): SettledLine {
  const { first, last, toleranceKpa } = settling;
  const n = trace.time.length;
  const endS = trace.time[n - 1];
  const lastLine = transient?.line ?? fitBetween(trace, bins[last.from].timeS, endS);
  const line = first ? fitBetween(trace, bins[first.from].timeS, bins[first.to - 1].timeS) : lastLine;
  const straightFrom = (first ?? last).from;
  const start = bins[settledFrom(bins, straightFrom, line, trace.noiseKpa)];
  const endRpm = trace.rpm[n - 1];
  const levelKpa = lineAt(line, start.rpm);
  const endKpa = lineAt(lastLine, endRpm);
  const span = endRpm - start.rpm;
  const half = Math.hypot(line.levelHalfKpa, lastLine.levelHalfKpa);
  const riseKpa = endKpa - levelKpa;
  return {
    settleS: start.timeS,
    settleRpm: start.rpm,
    endRpm,
    levelKpa,
    endKpa,
    riseKpa,
    riseLow: first ? riseKpa - half : lastLine.slopeLow * span,
    riseHigh: first ? riseKpa + half : lastLine.slopeHigh * span,
    line,
    last: lastLine,
    bent: first !== undefined,
    transientOff: transient !== undefined,
    toleranceKpa,
    straightFromS: bins[straightFrom].timeS,
  };
}

/** The line a ringing boost swings about, from when it first came up; for boost that dies down too late to settle. */
export function ringingSettling(bins: readonly BoostBin[], from: number, toleranceKpa: number): Settling {
  return { last: { from, to: bins.length, slope: 0, intercept: 0 }, first: undefined, toleranceKpa };
}
