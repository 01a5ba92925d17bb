import { lag1Autocorrelation } from '../../signal/autocorrelation.ts';
import { mannKendall } from '../../signal/mann-kendall.ts';
import { median } from '../../signal/median.ts';
import { normalCdf } from '../../signal/normal.ts';
import { robustSpread } from '../../signal/robust-spread.ts';
import { theilSen } from '../../signal/theil-sen.ts';
import { byRegion, type KeptTrims } from './cells.ts';

/** Level of the trim over some seconds in one region. */
export interface DriftBlock {
  readonly timeS: number;
  readonly level: number;
  readonly region: string;
  /** Warm-up was over. */
  readonly warmedThrough: boolean;
}

export interface DriftBlocks {
  readonly blocks: readonly DriftBlock[];
  readonly blockS: number;
}

export type Drift =
  | { readonly assessed: false; readonly why: string }
  | {
      readonly assessed: true;
      readonly perMinute: number;
      /** Slope × `spanS`, with its 95 % interval, %. */
      readonly changePercent: number;
      readonly lowPercent: number;
      readonly highPercent: number;
      /** Two-sided, Mann–Kendall, corrected for what autocorrelation is left between blocks. */
      readonly p: number;
      readonly significant: boolean;
      /** Time that the change is told for, s: what one region was seen over, or a little more in long logs. */
      readonly spanS: number;
      readonly startS: number;
      readonly endS: number;
      readonly blocks: number;
      readonly blockS: number;
      /** Level of the last third minus the first third, same regions, %. */
      readonly lateMinusEarly: number;
      /** Those two levels lie clearly apart, by what either third scatters: a lasting step, which no line fits well. */
      readonly isStep: boolean;
    };

/** Common practice, no source. */
const LEAST_DRIFT_SPAN_S = 120;
const LEAST_REGION_SPAN_S = 60;
const LEAST_BLOCKS = 8;
const BLOCK_S = 5;
const LEAST_IN_BLOCK_S = 2;
const MOST_BLOCKS = 450;
/** A slope seen for this long in one region is told for the whole judged time, up to this multiple. */
const CARRY_FROM_S = 300;
const CARRIED = 1.1;
const SIGNIFICANCE = 0.05;
/** Levels that lie apart by so many of their spreads, taken together, are a step. Common practice, no source. */
const STEP_SPREADS = 3;

/** Means over blocks of five seconds within each region: thins autocorrelated trims to what they are worth. */
export function driftBlocks(kept: KeptTrims): DriftBlocks {
  const n = kept.time.length;
  const spanS = n > 0 ? kept.time[n - 1] - kept.time[0] : 0;
  const blockS = Math.max(BLOCK_S, spanS / MOST_BLOCKS);
  const least = Math.min(LEAST_IN_BLOCK_S / kept.stepS, 5);
  const blockNumber = (index: number) => Math.floor(kept.time[index] / blockS);
  const blocks: DriftBlock[] = [];
  for (const { region, indexes } of byRegion(kept)) {
    for (let from = 0, end = indexes.length; from < end; ) {
      const number = blockNumber(indexes[from]);
      let to = from;
      let times = 0;
      let values = 0;
      for (; to < indexes.length && blockNumber(indexes[to]) === number; to++) {
        times += kept.time[indexes[to]];
        values += kept.values[indexes[to]];
      }
      const count = to - from;
      if (count >= Math.max(1, least)) {
        const warmedThrough = kept.warmedThrough[indexes[from]] === 1;
        blocks.push({ timeS: times / count, level: values / count, region: region.key, warmedThrough });
      }
      from = to;
    }
  }
  return { blocks: blocks.sort((x, y) => x.timeS - y.timeS), blockS };
}

interface Within {
  /** Time and level of each block about the means of its region. */
  readonly time: Float64Array;
  readonly level: Float64Array;
  readonly longestSpanS: number;
}

/** Differences within regions only: a level that belongs to a region cancels (Frisch–Waugh), movement stays. */
function withinRegions(blocks: readonly DriftBlock[]): Within {
  const groups = new Map<string, DriftBlock[]>();
  for (const block of blocks) {
    const group = groups.get(block.region);
    if (group) group.push(block);
    else groups.set(block.region, [block]);
  }
  const used: { atS: number; time: number; level: number }[] = [];
  let longestSpanS = 0;
  for (const group of groups.values()) {
    const spanS = group[group.length - 1].timeS - group[0].timeS;
    if (group.length < 2 || spanS < LEAST_REGION_SPAN_S) continue;
    longestSpanS = Math.max(longestSpanS, spanS);
    const meanTime = group.reduce((sum, b) => sum + b.timeS, 0) / group.length;
    const meanLevel = group.reduce((sum, b) => sum + b.level, 0) / group.length;
    for (const b of group) used.push({ atS: b.timeS, time: b.timeS - meanTime, level: b.level - meanLevel });
  }
  used.sort((a, b) => a.atS - b.atS);
  return {
    time: Float64Array.from(used, (u) => u.time),
    level: Float64Array.from(used, (u) => u.level),
    longestSpanS,
  };
}

/** What a least-squares line through the origin leaves: times and levels are about their means already. */
function aboutLeastSquares(time: Float64Array, level: Float64Array): Float64Array {
  let tt = 0;
  let ty = 0;
  for (let i = 0, end = time.length; i < end; i++) {
    tt += time[i] * time[i];
    ty += time[i] * level[i];
  }
  return level.map((value, i) => value - (ty / tt) * time[i]);
}

/**
 * Share of the blocks that is independent, by the first-order autocorrelation of what the line leaves: (1−r)/(1+r).
 * Short series show too little of it, by about (1+4r)/n (Kendall 1954, from memory), which is put back.
 */
function independentShare(residual: Float64Array): number {
  const r = lag1Autocorrelation(residual);
  const whole = r + (1 + 4 * r) / residual.length;
  const correlated = Number.isNaN(r) ? 0 : Math.min(Math.max(whole, 0), 0.95);
  return (1 - correlated) / (1 + correlated);
}

/**
 * Change of the trim over the log within the same operating regions: Theil–Sen slope over block medians, Mann–Kendall
 * for its significance, both widened for the autocorrelation that is left (Sen 1968; Mann 1945; Kendall 1975).
 */
export function trimDrift({ blocks, blockS }: DriftBlocks): Drift {
  const { time, level, longestSpanS } = withinRegions(blocks);
  if (longestSpanS < LEAST_DRIFT_SPAN_S) {
    return {
      assessed: false,
      why: `no operating region was visited over as much as ${LEAST_DRIFT_SPAN_S} s (longest: ${longestSpanS.toFixed(0)} s), so movement cannot be told from scatter`,
    };
  }
  if (time.length < LEAST_BLOCKS) {
    return {
      assessed: false,
      why: `only ${time.length} blocks of ${blockS.toFixed(0)} s share an operating region, ${LEAST_BLOCKS} are needed`,
    };
  }
  const share = independentShare(aboutLeastSquares(time, level));
  const line = theilSen(time, level, 0.95, share * level.length);
  const { slope } = line;
  const order = Array.from(time, (_, i) => i).sort((a, b) => time[a] - time[b] || a - b);
  const sorted = Float64Array.from(order, (i) => level[i]);
  const p = Math.min(1, 2 * normalCdf(-Math.abs(mannKendall(sorted).z) * Math.sqrt(share)));
  const judgedS = blocks[blocks.length - 1].timeS - blocks[0].timeS + blockS;
  const spanS = Math.min(judgedS, (longestSpanS >= CARRY_FROM_S ? CARRIED : 1) * longestSpanS + blockS);
  const third = Math.max(1, Math.floor(sorted.length / 3));
  const [early, late] = [sorted.slice(0, third), sorted.slice(-third)];
  const lateMinusEarly = median(late) - median(early);
  return {
    assessed: true,
    perMinute: slope * 60,
    changePercent: slope * spanS,
    lowPercent: line.slopeLow * spanS,
    highPercent: line.slopeHigh * spanS,
    p,
    significant: p < SIGNIFICANCE && (line.slopeLow > 0 || line.slopeHigh < 0),
    spanS,
    startS: blocks[0].timeS - blockS / 2,
    endS: blocks[blocks.length - 1].timeS + blockS / 2,
    blocks: time.length,
    blockS,
    lateMinusEarly,
    isStep: Math.abs(lateMinusEarly) > STEP_SPREADS * (robustSpread(early) + robustSpread(late)),
  };
}

/**
 * Drift over everything warm. Where the part after warm-up alone says otherwise, that part counts: the last of the
 * warm-up must not pass for drift.
 */
export function driftPastWarmUp(judged: DriftBlocks): Drift {
  const whole = trimDrift(judged);
  if (!whole.assessed || judged.blocks.every((block) => block.warmedThrough)) return whole;
  const later = trimDrift({ ...judged, blocks: judged.blocks.filter((block) => block.warmedThrough) });
  if (!later.assessed) return whole;
  const scale = 60 / later.spanS;
  const agree = whole.perMinute >= later.lowPercent * scale && whole.perMinute <= later.highPercent * scale;
  return agree || Math.sign(whole.perMinute) * later.perMinute > 0.6 * Math.abs(whole.perMinute) ? whole : later;
}
