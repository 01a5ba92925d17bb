import type { BoostLine } from './line.ts';
import { lineHalfKpa } from './line.ts';
import { type BoostPeak, robustPeak } from './peak.ts';
import type { SettledLine } from './settled-line.ts';
import type { BoostTrace } from './trace.ts';

/** The first rise of a pull and how far it went past the settled line. */
export interface FirstRise {
  /** Whether boost was seen to come up from below 80 % of the settled level. */
  readonly seen: boolean;
  /** 10 to 90 % of the settled gauge boost, s, where both crossings were logged. */
  readonly riseTimeS: number | undefined;
  /** From half of the settled level until boost stays within 5 % of its settled line, s. */
  readonly settlingTimeS: number | undefined;
  readonly peakTimeS: number;
  readonly peakRpm: number;
  readonly peakKpa: number;
  /** Settled line at the peak's engine speed, kPa. */
  readonly settledKpa: number;
  /** Peak above the settled line, share of the settled gauge boost, %. */
  readonly excessPercent: number;
  readonly lowPercent: number;
  readonly highPercent: number;
}

/** The settled line carried to an engine speed; flat where its slope is not proven, and never further than half its own length. */
export function carriedLevel(line: BoostLine, rpm: number): number {
  const slope = line.slopeLow > 0 || line.slopeHigh < 0 ? line.slopeKpaPerRpm : 0;
  const span = (line.endRpm - line.startRpm) / 2;
  const within = Math.min(Math.max(rpm, line.startRpm - span), line.endRpm + span);
  return line.interceptKpa + line.slopeKpaPerRpm * line.middleRpm + slope * (within - line.middleRpm);
}

/** Time at which the trace, coming up between samples i − 1 and i, crossed `share` of the level, s. */
function crossing(trace: BoostTrace, i: number, share: number, level: Float64Array): number {
  const { time, boost } = trace;
  const before = boost[i - 1] - share * level[i - 1];
  const after = boost[i] - share * level[i];
  return after === before ? time[i] : time[i - 1] + ((time[i] - time[i - 1]) * -before) / (after - before);
}

/** Measures the first rise against the line on which boost first settled; what happens from `untilS` on is a spike's. */
export function measureRise(
  trace: BoostTrace,
  settledLine: SettledLine,
  untilS: number = Number.POSITIVE_INFINITY,
): FirstRise {
  const { line, settleS, straightFromS, toleranceKpa } = settledLine;
  const { time, boost, rpm, noiseKpa } = trace;
  const n = boost.length;
  const level = rpm.map((speed) => carriedLevel(line, speed));
  let settled = trace.first;
  while (settled < n - 1 && time[settled] < straightFromS) settled++;
  const lastBelow = (share: number, before: number) => {
    let i = before;
    while (i >= 0 && boost[i] >= share * level[i]) i--;
    return i;
  };
  const below50 = lastBelow(0.5, settled);
  const below10 = lastBelow(0.1, below50);
  const low = below50 >= 0 ? below50 : lastBelow(0.8, settled);
  let reached90 = low + 1;
  while (reached90 < n - 1 && boost[reached90] < 0.9 * level[reached90]) reached90++;
  const seen = low >= 0;
  let from = low + 1;
  while (from < n - 1 && boost[from] < level[from] - Math.max(toleranceKpa, 2 * noiseKpa)) from++;
  let to = from + 1;
  while (to < n && time[to] < untilS && (time[to] <= straightFromS + 0.2 || time[to] <= time[from] + 0.5)) to++;
  const above = boost.map((kpa, i) => kpa - level[i]);
  const peak: BoostPeak = robustPeak(time, above, from, to, noiseKpa);
  const settledKpa = level[peak.index];
  const lineHalf = lineHalfKpa(line, rpm[peak.index]);
  const percent = (kpa: number) => (100 * Math.max(0, kpa)) / Math.max(settledKpa, 1);
  return {
    seen,
    riseTimeS:
      seen && below10 >= 0
        ? crossing(trace, reached90, 0.9, level) - crossing(trace, below10 + 1, 0.1, level)
        : undefined,
    settlingTimeS: seen && below50 >= 0 ? Math.max(0, settleS - crossing(trace, below50 + 1, 0.5, level)) : undefined,
    peakTimeS: peak.timeS,
    peakRpm: rpm[peak.index],
    peakKpa: settledKpa + peak.heightKpa,
    settledKpa,
    excessPercent: percent(peak.heightKpa),
    lowPercent: percent(peak.heightKpa - Math.hypot(peak.heightKpa - peak.lowKpa, lineHalf)),
    highPercent: percent(peak.heightKpa + Math.hypot(peak.highKpa - peak.heightKpa, lineHalf)),
  };
}
