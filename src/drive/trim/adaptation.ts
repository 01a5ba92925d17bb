import type { DriftBlock, DriftBlocks } from './drift.ts';

/**
 * Trims and throttle still adapt in the first minutes after a flash. `evident` says that the early trims decay towards
 * the later ones in a way that no steady drift explains.
 */
export interface Adaptation {
  /** The early part can be held against the rest in the same regions. */
  readonly comparable: boolean;
  readonly evident: boolean;
  /** End of the early part, s. */
  readonly endS: number;
  /** Enough is left after `endS` to judge. */
  readonly settles: boolean;
  /** Early minus settled level in the same regions, %; NaN where they share none. */
  readonly earlyMinusSettled: number;
}

/** Common practice, no source. */
const EARLY_S = 150;
const TIME_CONSTANTS_S = [15, 25, 40, 60, 90];
const DECAYED = 2.5;
const LEAST_EARLY_S = 30;
const LEAST_SETTLED_S = 30;
const EVIDENT_PERCENT = 2.5;
const LEAST_BLOCKS = 9;
/** A decay has to leave at most this share of the squares that a straight line leaves. */
const BETTER_THAN_LINE = 0.6;
const LEAST_F = 6;

function meansOf(blocks: readonly DriftBlock[], of: (block: DriftBlock) => number): Map<string, number> {
  const sums = new Map<string, { sum: number; n: number }>();
  for (const block of blocks) {
    const entry = sums.get(block.region) ?? { sum: 0, n: 0 };
    entry.sum += of(block);
    entry.n++;
    sums.set(block.region, entry);
  }
  return new Map([...sums].map(([key, { sum, n }]) => [key, sum / n]));
}

/** Values of the blocks about the mean of their region. */
function withinMeans(blocks: readonly DriftBlock[], of: (block: DriftBlock) => number): Float64Array {
  const means = meansOf(blocks, of);
  return Float64Array.from(blocks, (block) => of(block) - (means.get(block.region) as number));
}

const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, i) => sum + value * b[i], 0);

interface Decay {
  readonly tauS: number;
  /** Height of the decay at the first block, %. */
  readonly heightPercent: number;
}

/** A line plus a decay against the line alone, within regions, by least squares. */
function bestDecay(blocks: readonly DriftBlock[]): Decay | undefined {
  if (blocks.length < LEAST_BLOCKS) return undefined;
  const startS = blocks[0].timeS;
  const y = withinMeans(blocks, (b) => b.level);
  const t = withinMeans(blocks, (b) => (b.timeS - startS) / 100);
  const tt = dot(t, t);
  const ty = dot(t, y);
  if (!(tt > 0)) return undefined;
  const line = dot(y, y) - ty ** 2 / tt;
  const regions = new Set(blocks.map((b) => b.region)).size;
  let best: (Decay & { left: number }) | undefined;
  for (const tauS of TIME_CONSTANTS_S) {
    const e = withinMeans(blocks, (b) => Math.exp(-(b.timeS - startS) / tauS));
    const te = dot(t, e);
    const ee = dot(e, e) - te ** 2 / tt;
    if (!(ee > 1e-6)) continue;
    const ey = dot(e, y) - (te * ty) / tt;
    const left = line - ey ** 2 / ee;
    if (!best || left < best.left) best = { tauS, heightPercent: ey / ee, left };
  }
  if (!best) return undefined;
  const free = Math.max(1, blocks.length - regions - 3);
  const f = (line - best.left) / 2 / (Math.max(best.left, 1e-9) / free);
  return best.left <= BETTER_THAN_LINE * line && f >= LEAST_F ? best : undefined;
}

const meanLevel = (blocks: readonly DriftBlock[]) => blocks.reduce((sum, b) => sum + b.level, 0) / blocks.length;

/** Difference between early and settled blocks of the same regions, %; NaN where they share none. */
function sharedDifference(blocks: readonly DriftBlock[], endS: number): number {
  let weights = 0;
  let sum = 0;
  for (const region of new Set(blocks.map((b) => b.region))) {
    const own = blocks.filter((b) => b.region === region);
    const early = own.filter((b) => b.timeS < endS);
    const settled = own.filter((b) => b.timeS >= endS);
    const weight = Math.min(early.length, settled.length);
    if (weight === 0) continue;
    weights += weight;
    sum += weight * (meanLevel(early) - meanLevel(settled));
  }
  return sum / weights;
}

/** Compares the first minutes of judged closed loop with the rest. */
export function adaptation({ blocks, blockS }: DriftBlocks): Adaptation {
  const startS = blocks.length > 0 ? blocks[0].timeS - blockS / 2 : 0;
  const decay = bestDecay(blocks);
  const lastsS = decay ? Math.min(EARLY_S, Math.max(LEAST_EARLY_S, DECAYED * decay.tauS)) : EARLY_S;
  const endS = startS + lastsS;
  const difference = sharedDifference(blocks, endS);
  return {
    comparable: Number.isFinite(difference),
    evident: decay !== undefined && Math.max(Math.abs(decay.heightPercent), Math.abs(difference)) >= EVIDENT_PERCENT,
    endS,
    settles: blocks.filter((b) => b.timeS >= endS).length * blockS >= LEAST_SETTLED_S,
    earlyMinusSettled: Number.isFinite(difference) ? difference : (decay?.heightPercent ?? Number.NaN),
  };
}
