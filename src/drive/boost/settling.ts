import { median } from '../../signal/median.ts';
import { runsWhere } from '../../signal/runs.ts';
import { type BoostBin, binColumns } from './bins.ts';
import { robustLine } from './line.ts';

/** Bins [from, to) on one straight line of boost over engine speed. */
export interface StraightStretch {
  readonly from: number;
  readonly to: number;
  readonly slope: number;
  readonly intercept: number;
}

/** Where boost first settled, and, where it bent later, the last straight stretch. */
export interface Settling {
  readonly last: StraightStretch;
  readonly first: StraightStretch | undefined;
  readonly toleranceKpa: number;
}

/** In the band for this long before an excursion may be passed over, s. */
const DWELL_S = 0.3;
/** An excursion longer than this at half its height, or than this at its foot, is no spike and breaks the line, s. */
const EXCURSION_S = 0.5;
const EXCURSION_FOOT_S = 1;
const SHORTEST_S = 0.7;
const MOST_OUTSIDE = 0.35;
/** Above this share of its steepest first rise, a climbing boost has not reached a knee. */
const KNEE_SHARE = 0.45;
/** A line falling faster than this share of its level in a second is a transient, not a taper. */
const STEEPEST_TAPER = 0.2;
/** The band is tried narrow first: about 2 % of the level, then wider. */
const BANDS = [1, 1.6, 2.5];

const spacing = (bins: readonly BoostBin[]) =>
  bins.length > 1 ? median(bins.slice(1).map((bin, i) => bin.timeS - bins[i].timeS)) : 0.1;

/** Standard error of a bin's median, kPa (1.2533·σ/√n). */
const binNoise = (bin: BoostBin, noiseKpa: number) => (1.2533 * noiseKpa) / Math.sqrt(bin.count);

export function levelNearEnd(bins: readonly BoostBin[]): number {
  return median(bins.slice(Math.floor(bins.length / 2)).map((bin) => bin.boostKpa));
}

/** Steepest rise before bin `to` while boost was above `aboveKpa`, over at least a quarter second, kPa/s. */
function steepestRise(bins: readonly BoostBin[], to: number, aboveKpa: number): number {
  let steepest = 0;
  for (let i = 1; i <= to; i++) {
    let back = i - 1;
    while (back > 0 && bins[i].timeS - bins[back].timeS < 0.25) back--;
    if (bins[i].boostKpa < aboveKpa) continue;
    const fromKpa = Math.max(bins[back].boostKpa, 0.7 * aboveKpa);
    steepest = Math.max(steepest, (bins[i].boostKpa - fromKpa) / (bins[i].timeS - bins[back].timeS));
  }
  return steepest;
}

interface Candidate extends StraightStretch {
  readonly residuals: readonly number[];
}

function fitStretch(bins: readonly BoostBin[], from: number, to: number): Candidate {
  const { rpm, boostKpa } = binColumns(bins);
  const line = robustLine(rpm.subarray(from, to), boostKpa.subarray(from, to));
  const [slope, intercept] = [line.slopeKpaPerRpm, line.interceptKpa];
  const residuals = bins.slice(from, to).map((bin) => bin.boostKpa - intercept - slope * bin.rpm);
  return { from, to, slope, intercept, residuals };
}

/** Whether the bins keep to their line within the band, brief excursions after a first dwell left aside. */
function isStraight(bins: readonly BoostBin[], line: Candidate, bandKpa: number, noiseKpa: number): boolean {
  const { from, residuals } = line;
  const n = residuals.length;
  const gapS = spacing(bins.slice(from, line.to));
  const outside = residuals.map((r, i) => Math.abs(r) > Math.max(bandKpa, 3.2 * binNoise(bins[from + i], noiseKpa)));
  let dwell = 0;
  while (dwell < n && (dwell === 0 || bins[from + dwell].timeS - bins[from].timeS < DWELL_S)) {
    if (outside[dwell++]) return false;
  }
  const half = Math.max(1, dwell >> 1);
  const drift = median(residuals.slice(dwell - half, dwell)) - median(residuals.slice(0, half));
  if (dwell > 1 && Math.abs(drift) > Math.max(bandKpa, 3 * binNoise(bins[from], noiseKpa))) return false;
  let total = 0;
  for (const run of runsWhere(n, (i) => outside[i])) {
    const sizes = residuals.slice(run.start, run.end).map(Math.abs);
    const half = Math.max(...sizes) / 2;
    const wide = sizes.filter((size) => size >= half).length;
    if (wide > 1 && wide * gapS > EXCURSION_S + 0.01) return false;
    if (sizes.length > 1 && sizes.length * gapS > EXCURSION_FOOT_S + 0.01) return false;
    total += sizes.length;
  }
  if (total > MOST_OUTSIDE * n) return false;
  for (let third = 0; third < 3 && n >= 6; third++) {
    const begin = Math.floor((third * n) / 3);
    const part = residuals.slice(begin, Math.floor(((third + 1) * n) / 3)).filter((_, i) => !outside[begin + i]);
    if (part.length === 0) return false;
    const error = binNoise(bins[from], noiseKpa) / Math.sqrt(part.length);
    if (Math.abs(median(part)) > Math.max(0.7 * bandKpa, 3 * error)) return false;
  }
  return true;
}

/** Whether a climbing line is a settled boost creeping up: slower by far than its first rise, which was seen or lay before. */
function isPastKnee(bins: readonly BoostBin[], line: Candidate): boolean {
  const start = bins[line.from];
  const end = bins[line.to - 1];
  const climb = line.slope * (end.rpm - start.rpm);
  const endKpa = line.intercept + line.slope * end.rpm;
  const fallRate = -climb / (end.timeS - start.timeS);
  if (fallRate > Math.max(8, STEEPEST_TAPER * endKpa)) return false;
  if (climb < Math.max(3, 0.03 * endKpa)) return true;
  const lowest = Math.min(...bins.slice(0, line.from + 1).map((bin) => bin.boostKpa));
  const rate = climb / (end.timeS - start.timeS);
  if (lowest < 0.6 * (endKpa - climb)) return rate < KNEE_SHARE * steepestRise(bins, line.from, 0.15 * endKpa);
  return climb < 0.5 * endKpa;
}

function isLongEnough(bins: readonly BoostBin[], line: StraightStretch, leastS: number): boolean {
  const gapS = spacing(bins.slice(line.from, line.to));
  return line.to - line.from >= 4 && bins[line.to - 1].timeS - bins[line.from].timeS + gapS >= leastS;
}

/** The earliest bin from which the rest of the pull is one straight line past the knee. */
function lastStretch(
  bins: readonly BoostBin[],
  first: number,
  bandKpa: number,
  noiseKpa: number,
): { line: Candidate; bandKpa: number } | undefined {
  const level = levelNearEnd(bins.slice(first));
  const endS = bins[bins.length - 1].timeS;
  const reached = bins.findIndex((bin, i) => i >= first && bin.boostKpa >= 0.9 * level);
  const wantedS = Math.max(0.8, 0.3 * (endS - bins[Math.max(first, reached)].timeS));
  const fits = new Map<number, Candidate>();
  let late: { line: Candidate; bandKpa: number } | undefined;
  for (const widen of BANDS) {
    for (let from = first; from <= bins.length - 4; from++) {
      if (bins[from].boostKpa < 0.4 * level) continue;
      const line = fits.get(from) ?? fitStretch(bins, from, bins.length);
      fits.set(from, line);
      if (!isLongEnough(bins, line, SHORTEST_S)) break;
      if (!isStraight(bins, line, widen * bandKpa, noiseKpa) || !isPastKnee(bins, line)) continue;
      if (isLongEnough(bins, line, wantedS)) return { line, bandKpa: widen * bandKpa };
      late ??= { line, bandKpa: widen * bandKpa };
      break;
    }
  }
  return late;
}

/** An earlier stretch, at least 0.9 s long, on which boost had already settled before it bent. */
function earlierStretch(
  bins: readonly BoostBin[],
  first: number,
  last: StraightStretch,
  bandKpa: number,
  noiseKpa: number,
): StraightStretch | undefined {
  const gapS = spacing(bins);
  const width = Math.max(4, Math.ceil(0.9 / gapS));
  const highest = Math.max(...bins.slice(first).map((bin) => bin.boostKpa));
  for (let from = first; from + width <= last.from + 2 && from + width <= bins.length; from++) {
    if (bins[from].boostKpa < Math.max(10, 0.5 * highest)) continue;
    let found = fitStretch(bins, from, from + width);
    const seconds = bins[found.to - 1].timeS - bins[from].timeS;
    const rate = (found.slope * (bins[found.to - 1].rpm - bins[from].rpm)) / seconds;
    if (Math.abs(rate) > Math.max(2, 0.04 * highest)) continue;
    if (!isStraight(bins, found, bandKpa, noiseKpa) || !isPastKnee(bins, found)) continue;
    for (let to = found.to + 1; to <= last.from + 1; to++) {
      const longer = fitStretch(bins, from, to);
      if (!isStraight(bins, longer, bandKpa, noiseKpa)) break;
      found = longer;
    }
    return found;
  }
  return undefined;
}

/** A stretch still rising into a flatter one is the end of the spool, not a level on which boost had settled. */
function isEndOfSpool(
  bins: readonly BoostBin[],
  before: StraightStretch,
  last: StraightStretch,
  bandKpa: number,
): boolean {
  const gain = before.slope * (bins[before.to - 1].rpm - bins[before.from].rpm);
  return gain > bandKpa && last.slope < before.slope;
}

/** Finds the settled boost of a pull: bins from `first` on are the pull, those before it the seconds that led to it. */
export function findSettling(bins: readonly BoostBin[], first: number, noiseKpa: number): Settling | undefined {
  if (bins.length - first < 4) return undefined;
  const bandKpa = Math.max(1, 0.02 * Math.abs(levelNearEnd(bins.slice(first))));
  const found = lastStretch(bins, first, bandKpa, noiseKpa);
  if (!found) return undefined;
  const { line } = found;
  const before = earlierStretch(bins, first, line, bandKpa, noiseKpa);
  const plateau = before && !isEndOfSpool(bins, before, line, bandKpa) ? before : undefined;
  return { last: line, first: plateau, toleranceKpa: found.bandKpa };
}
