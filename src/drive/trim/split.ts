import { largest, smallest } from '../../signal/extremes.ts';
import { median } from '../../signal/median.ts';
import { picked } from '../../signal/picked.ts';
import { quantile } from '../../signal/quantile.ts';
import type { CellRegion, KeptTrims } from './cells.ts';

/** Common practice, no source. */
const LEAST_DWELL_S = 10;
const LEAST_PART_S = 4;
const LEAST_DIFFERENCE = 4;

export interface Part {
  readonly region: CellRegion;
  readonly indexes: Uint32Array;
}

interface Cut {
  readonly at: number;
  readonly low: Uint32Array;
  readonly high: Uint32Array;
  readonly difference: number;
}

/** Cuts at the middle of what was visited of one axis. */
function cutBy(kept: KeptTrims, axis: Float64Array, indexes: Uint32Array): Cut | undefined {
  const points = picked(axis, indexes);
  if (points.some(Number.isNaN)) return undefined;
  const at = (quantile(points, 0.05) + quantile(points, 0.95)) / 2;
  const low = indexes.filter((i) => axis[i] < at);
  const high = indexes.filter((i) => axis[i] >= at);
  if (Math.min(low.length, high.length) * kept.stepS < LEAST_PART_S) return undefined;
  const difference = Math.abs(median(picked(kept.values, high)) - median(picked(kept.values, low)));
  return { at, low, high, difference };
}

/**
 * Two operating points that fell into one cell, told apart by engine speed or load where their trims differ clearly: the
 * median of the mixture would hide the worse of them.
 */
export function splitByOperatingPoint(kept: KeptTrims, part: Part): readonly Part[] {
  const { region, indexes } = part;
  if (region.idle || !region.rpm || indexes.length * kept.stepS < LEAST_DWELL_S) return [part];
  const values = picked(kept.values, indexes);
  if (largest(values) - smallest(values) < LEAST_DIFFERENCE) return [part];
  if (quantile(values, 0.9) - quantile(values, 0.1) < LEAST_DIFFERENCE) return [part];
  const byRpm = cutBy(kept, kept.rpm, indexes);
  const byLoad = region.load && cutBy(kept, kept.load, indexes);
  const useLoad = byLoad !== undefined && byLoad.difference > (byRpm?.difference ?? 0);
  const cut = useLoad ? byLoad : byRpm;
  if (!cut || cut.difference < LEAST_DIFFERENCE) return [part];
  const parted = (indexesOf: Uint32Array, side: 'low' | 'high'): Part => {
    const halve = ([from, to]: readonly [number, number], at: number): readonly [number, number] =>
      side === 'low' ? [from, at] : [at, to];
    return {
      indexes: indexesOf,
      region: {
        ...region,
        key: `${region.key}/${side}`,
        ...(useLoad && region.load ? { load: halve(region.load, Math.round(cut.at)) } : {}),
        ...(!useLoad && region.rpm ? { rpm: halve(region.rpm, Math.round(cut.at / 10) * 10) } : {}),
      },
    };
  };
  return [parted(cut.low, 'low'), parted(cut.high, 'high')];
}
