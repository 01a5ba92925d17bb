import { effectiveSampleSize } from '../../signal/effective-sample-size.ts';
import { largest, smallest } from '../../signal/extremes.ts';
import { median } from '../../signal/median.ts';
import { medianInterval } from '../../signal/median-interval.ts';
import { picked } from '../../signal/picked.ts';
import { robustSpread } from '../../signal/robust-spread.ts';
import { splitByOperatingPoint } from './split.ts';

/** Operating region: idle, or a band of engine speed and load. Bands are half open. */
export interface CellRegion {
  readonly key: string;
  readonly idle: boolean;
  readonly rpm: readonly [number, number] | undefined;
  readonly load: readonly [number, number] | undefined;
}

/** A stretch of grid times (inclusive) spent in one region without a break. */
export interface Visit {
  readonly startS: number;
  readonly endS: number;
  readonly rpm: readonly [number, number];
}

export interface Cell {
  readonly region: CellRegion;
  readonly dwellS: number;
  /** Median of means over two seconds, so that neither the swing of the control loop nor rounding shifts it. */
  readonly medianPercent: number;
  /** Robust spread of the single values, swing included. */
  readonly spreadPercent: number;
  /** Independent values that the autocorrelated trims are worth. */
  readonly effectiveN: number;
  readonly lowPercent: number;
  readonly highPercent: number;
  /** Enough time and information to be held against a limit. */
  readonly judged: boolean;
  readonly meanRpm: number;
  /** Mean load in the unit of the load axis; NaN where there is none. */
  readonly meanLoad: number;
  readonly visits: readonly Visit[];
}

/** What is kept of one bank: grid times with a trim, their region, engine speed and load. */
export interface KeptTrims {
  readonly time: Float64Array;
  readonly values: Float64Array;
  readonly rpm: Float64Array;
  readonly load: Float64Array;
  readonly stepS: number;
  /** Quantisation of the trims, %. */
  readonly quantumPercent: number;
  readonly regions: readonly CellRegion[];
  /** Per kept time: index into `regions`. */
  readonly region: Uint16Array;
  /** Per kept time, 1 where warm-up was over. */
  readonly warmedThrough: Uint8Array;
}

/** Common practice, no source. */
const LEAST_DWELL_S = 4;
const LEAST_IDLE_DWELL_S = 5;
const LEAST_EFFECTIVE_N = 4;
/** Trims that hardly move are autocorrelated, yet known well: this range of block levels will do instead, %. */
const NARROW_PERCENT = 4;
/** A cell this long is judged even where its trims are strongly autocorrelated, s. */
const AMPLE_DWELL_S = 15;
/**
 * A median is judged only where its interval stays this near on the side of zero, % or share of itself: two levels are no
 * level. How much worse it might be does not save it. Narrow regions with a long dwell are always judged.
 */
const KNOWN_WITHIN = 4;
const KNOWN_SHARE = 0.5;
const LONG_DWELL_S = 60;
/** About one swing of the control loop, s. */
const BLOCK_S = 1;
/** A break in time that ends a visit, in grid steps. */
const BREAK_STEPS = 2.5;

/** Levels of consecutive blocks of about one second: shorter swings of the control loop cancel within them. */
function blockLevels(time: Float64Array, values: Float64Array, indexes: Uint32Array): Float64Array {
  const levels = new Float64Array(indexes.length);
  let blocks = 0;
  let from = 0;
  for (let k = 1; k <= indexes.length; k++) {
    const ended = k === indexes.length || time[indexes[k]] - time[indexes[from]] >= BLOCK_S - 1e-6;
    if (!ended) continue;
    let sum = 0;
    for (let j = from; j < k; j++) sum += values[indexes[j]];
    levels[blocks++] = sum / (k - from);
    from = k;
  }
  return levels.subarray(0, blocks);
}

/** Means of neighbouring blocks: a swing of two blocks, or one that slow sampling folds to that, cancels as well. */
function neighbourMeans(levels: Float64Array): Float64Array {
  if (levels.length < 2) return levels;
  const means = new Float64Array(levels.length - 1);
  for (let i = 0, end = means.length; i < end; i++) means[i] = (levels[i] + levels[i + 1]) / 2;
  return means;
}

function visitsOf(kept: KeptTrims, indexes: Uint32Array): Visit[] {
  const visits: Visit[] = [];
  let from = 0;
  for (let k = 1; k <= indexes.length; k++) {
    if (k < indexes.length && kept.time[indexes[k]] - kept.time[indexes[k - 1]] <= BREAK_STEPS * kept.stepS) continue;
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let j = from; j < k; j++) {
      const rpm = kept.rpm[indexes[j]];
      if (rpm < low) low = rpm;
      if (rpm > high) high = rpm;
    }
    visits.push({ startS: kept.time[indexes[from]], endS: kept.time[indexes[k - 1]], rpm: [low, high] });
    from = k;
  }
  return visits;
}

function meanOf(values: Float64Array, indexes: Uint32Array): number {
  let sum = 0;
  for (let k = 0, end = indexes.length; k < end; k++) sum += values[indexes[k]];
  return sum / indexes.length;
}

function cellOf(kept: KeptTrims, region: CellRegion, indexes: Uint32Array): Cell {
  const levels = blockLevels(kept.time, kept.values, indexes);
  const dwellS = indexes.length * kept.stepS;
  const range = largest(levels) - smallest(levels);
  const effectiveN = levels.length < 3 || range === 0 ? levels.length : effectiveSampleSize(levels);
  const means = neighbourMeans(levels);
  const centre = median(means);
  const interval = medianInterval(means, Math.max(1, effectiveN));
  const spreadPercent = robustSpread(picked(kept.values, indexes));
  // Without any swing to dither it, rounding hides up to half a step.
  const half = spreadPercent < kept.quantumPercent ? kept.quantumPercent / 2 : 0;
  const inward = centre >= 0 ? centre - interval.low : interval.high - centre;
  const outward = interval.high - interval.low - inward;
  const reach = Math.abs(centre) >= KNOWN_WITHIN ? inward : Math.max(inward, outward);
  const narrow = region.idle || (region.rpm !== undefined && region.load !== undefined);
  const known = reach <= Math.max(KNOWN_WITHIN, KNOWN_SHARE * Math.abs(centre)) || (dwellS >= LONG_DWELL_S && narrow);
  const oneSided = Math.abs(centre) >= KNOWN_WITHIN && inward <= KNOWN_SHARE * Math.abs(centre);
  const enough = effectiveN >= LEAST_EFFECTIVE_N || range <= NARROW_PERCENT || dwellS >= AMPLE_DWELL_S || oneSided;
  return {
    region,
    dwellS,
    medianPercent: centre,
    spreadPercent,
    effectiveN,
    lowPercent: Math.min(interval.low, centre - half),
    highPercent: Math.max(interval.high, centre + half),
    judged: dwellS >= (region.idle ? LEAST_IDLE_DWELL_S : LEAST_DWELL_S) - 1e-6 && enough && known,
    meanRpm: meanOf(kept.rpm, indexes),
    meanLoad: meanOf(kept.load, indexes),
    visits: visitsOf(kept, indexes),
  };
}

/** Indexes of the kept times by region, regions in the order they were first visited. */
export function byRegion(
  kept: KeptTrims,
  use?: (i: number) => boolean,
): { readonly region: CellRegion; readonly indexes: Uint32Array }[] {
  const counts = new Uint32Array(kept.regions.length);
  const n = kept.time.length;
  for (let i = 0; i < n; i++) if (!use || use(i)) counts[kept.region[i]]++;
  const groups = kept.regions.map((region, r) => ({ region, indexes: new Uint32Array(counts[r]) }));
  counts.fill(0);
  for (let i = 0; i < n; i++) {
    const r = kept.region[i];
    if (!use || use(i)) groups[r].indexes[counts[r]++] = i;
  }
  return groups.filter((group) => group.indexes.length > 0);
}

/** One row per region visited, two where it holds two operating points with different trims: idle first, then by engine speed and load. */
export function trimCells(kept: KeptTrims, use?: (i: number) => boolean): Cell[] {
  const parts = byRegion(kept, use).flatMap((part) => splitByOperatingPoint(kept, part));
  const cells = parts.map(({ region, indexes }) => cellOf(kept, region, indexes));
  const order = (cell: Cell) => [
    cell.region.idle ? 0 : 1,
    cell.region.rpm?.[0] ?? -1,
    cell.region.load?.[0] ?? Number.NEGATIVE_INFINITY,
  ];
  return cells.sort((a, b) => {
    const [x, y] = [order(a), order(b)];
    return x[0] - y[0] || x[1] - y[1] || (x[2] < y[2] ? -1 : x[2] > y[2] ? 1 : 0);
  });
}
