import { median } from '../../signal/median.ts';
import { robustSpread } from '../../signal/robust-spread.ts';
import type { BoostBin } from './bins.ts';
import { robustPeak } from './peak.ts';
import type { BoostTrace } from './trace.ts';

/** A departure above the local level of a settled pull. */
export interface Excursion {
  readonly startS: number;
  readonly endS: number;
  /** Time above half of its height, s: the pulse duration of IEEE Std 181 (restated from memory). */
  readonly durationS: number;
  readonly rpm: number;
  readonly peakKpa: number;
  /** Above the local level, kPa, with the noise's share taken off. */
  readonly heightKpa: number;
  readonly lowKpa: number;
  readonly highKpa: number;
  /** Samples that show it. */
  readonly samples: number;
  /** Whether boost was seen to come back before the pull ended. */
  readonly returned: boolean;
}

export interface Excursions {
  readonly spikes: readonly Excursion[];
  /** The same, but 0.5 s or longer. */
  readonly surges: readonly Excursion[];
  /** Left out: began at the lift, or one lone sample where a real excursion would show in several. */
  readonly setAside: readonly (Excursion & { readonly why: 'lift' | 'lone sample' })[];
  /** Spread about the local level, kPa. */
  readonly spreadKpa: number;
}

/** A spike is shorter than this, s. */
export const SPIKE_S = 0.5;
const LOCAL_WINDOW_S = 1.8;
/** What begins this near to the end of the pull and does not come back belongs to the lift, s. */
const LIFT_S = 0.15;
/** From this rate on a real excursion shows in two samples at least, Hz. */
const LONE_SAMPLE_HZ = 40;

/** Below this rate settling is not resolved, and what comes right after it may still be the first rise, Hz and s. */
const SLOW_HZ = 4.75;
const FIRST_SWING_S = 1;

/** Median of the departures within the window around each bin; at the ends the window moves inward and keeps its length. */
function localLevel(bins: readonly BoostBin[], departKpa: Float64Array): Float64Array {
  const lastS = bins[bins.length - 1].timeS - LOCAL_WINDOW_S;
  const levels = new Float64Array(bins.length);
  let from = 0;
  let to = 0;
  for (let i = 0, size = bins.length; i < size; i++) {
    const startS = Math.max(bins[0].timeS, Math.min(bins[i].timeS - LOCAL_WINDOW_S / 2, lastS));
    while (bins[from].timeS < startS - 1e-9) from++;
    while (to < bins.length && bins[to].timeS <= startS + LOCAL_WINDOW_S + 1e-9) to++;
    levels[i] = median(departKpa.subarray(from, to));
  }
  return levels;
}

/** How far each sample from `from` on is above the local level, which runs straight from bin to bin; 0 before, kPa. */
function aboveLevel(
  time: Float64Array,
  depart: Float64Array,
  from: number,
  bins: readonly BoostBin[],
  levels: Float64Array,
): Float64Array {
  const above = new Float64Array(depart.length);
  let bin = 0;
  for (let i = from, size = depart.length; i < size; i++) {
    while (bin < bins.length - 2 && bins[bin + 1].timeS <= time[i]) bin++;
    const share = (time[i] - bins[bin].timeS) / (bins[bin + 1].timeS - bins[bin].timeS);
    above[i] = depart[i] - (levels[bin] + Math.min(1, Math.max(0, share)) * (levels[bin + 1] - levels[bin]));
  }
  return above;
}

interface Run {
  readonly from: number;
  readonly to: number;
}

/** Runs of samples above `threshold`, joined across one lower sample. */
function runsAbove(values: Float64Array, from: number, threshold: number): Run[] {
  const runs: Run[] = [];
  for (let i = from, size = values.length; i < size; i++) {
    if (values[i] <= threshold) continue;
    let to = i + 1;
    while (to < values.length && (values[to] > threshold || (to + 1 < values.length && values[to + 1] > threshold)))
      to++;
    runs.push({ from: i, to });
    i = to;
  }
  return runs;
}

/** Where the side of an excursion crosses `foot`, s, interpolated between the samples either side. */
function footTime(time: Float64Array, values: Float64Array, inside: number, outside: number, foot: number): number {
  if (outside < 0 || outside >= values.length) return time[inside];
  const share = (values[inside] - foot) / (values[inside] - values[outside]);
  return time[inside] + (time[outside] - time[inside]) * Math.min(1, Math.max(0, share));
}

/** How long an excursion stays above `half` around its peak, s. */
function halfHeightWidth(time: Float64Array, values: Float64Array, peak: number, half: number, from: number): number {
  let left = peak;
  let right = peak;
  while (left > from && values[left - 1] > half) left--;
  while (right < values.length - 1 && values[right + 1] > half) right++;
  return footTime(time, values, right, right + 1, half) - footTime(time, values, left, left - 1, half);
}

/**
 * Finds departures above the local level from sample `from` on. `lineKpa` is the settled line at each sample;
 * the local level is that line plus the running median of what departs from it.
 */
export function findExcursions(
  trace: BoostTrace,
  lineKpa: Float64Array,
  from: number,
  bins: readonly BoostBin[],
  lineAtBin: (bin: BoostBin) => number,
): Excursions {
  const { time, boost, rpm, rateHz } = trace;
  const n = time.length;
  if (n - from < 4 || bins.length < 3) return { spikes: [], surges: [], setAside: [], spreadKpa: trace.noiseKpa };
  const depart = boost.map((kpa, i) => kpa - lineKpa[i]);
  const levels = localLevel(
    bins,
    Float64Array.from(bins, (bin) => bin.boostKpa - lineAtBin(bin)),
  );
  const above = aboveLevel(time, depart, from, bins, levels);
  const spreadKpa = Math.max(trace.noiseKpa, robustSpread(above.subarray(from)));
  const found = {
    spikes: [] as Excursion[],
    surges: [] as Excursion[],
    setAside: [] as Excursions['setAside'][number][],
    spreadKpa,
  };
  for (const run of runsAbove(above, from, Math.max(4 * spreadKpa, 2))) {
    const peak = robustPeak(time, above, run.from, run.to, spreadKpa);
    const foot = Math.max(2 * spreadKpa, 0.2 * peak.heightKpa);
    let left = run.from;
    let right = run.to - 1;
    while (left > from && above[left - 1] > foot) left--;
    while (right < n - 1 && above[right + 1] > foot) right++;
    const side = (startS: number, endS: number) => {
      const beside: number[] = [];
      for (let i = from; i < n; i++)
        if (time[i] >= startS && time[i] <= endS && (i < left || i > right)) beside.push(above[i]);
      return beside.length >= 3 ? median(beside) : 0;
    };
    const besideKpa = Math.max(0, side(time[left] - 0.5, time[left]), side(time[right], time[right] + 0.5));
    const heightKpa = peak.heightKpa - besideKpa;
    if (heightKpa < Math.max(3 * spreadKpa, 1.5)) continue;
    const startS = footTime(time, above, left, left - 1, foot);
    const returned = right < n - 1;
    const endS = footTime(time, above, right, right + 1, foot);
    const durationS = halfHeightWidth(time, above, peak.index, besideKpa + heightKpa / 2, from);
    const excursion: Excursion = {
      startS,
      endS,
      durationS,
      rpm: rpm[peak.index],
      peakKpa: boost[peak.index] - above[peak.index] + peak.heightKpa,
      heightKpa,
      lowKpa: heightKpa - (peak.heightKpa - peak.lowKpa),
      highKpa: heightKpa + (peak.highKpa - peak.heightKpa),
      samples: right - left + 1,
      returned,
    };
    if (rateHz < SLOW_HZ && startS < time[from] + FIRST_SWING_S) continue;
    const lone = rateHz >= LONE_SAMPLE_HZ && right === left;
    if (lone) found.setAside.push({ ...excursion, why: 'lone sample' });
    else if (!returned && time[n - 1] - startS < LIFT_S) found.setAside.push({ ...excursion, why: 'lift' });
    else if (right === left || durationS < SPIKE_S) found.spikes.push(excursion);
    else found.surges.push(excursion);
  }
  return found;
}
