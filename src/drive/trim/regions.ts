import type { CellRegion } from './cells.ts';
import type { LoadAxis } from './load-axis.ts';

/** How the operating range is divided. Widths in rpm and in units of the load axis; undefined: not divided. */
export interface Partition {
  readonly name: 'fine' | 'broad' | 'load' | 'off idle';
  readonly rpmWidth: number | undefined;
  readonly loadWidth: ((axis: LoadAxis) => number) | undefined;
}

/** Trims may change much with load, so bands are narrow where the log fills them. */
export const FINE: Partition = { name: 'fine', rpmWidth: 500, loadWidth: (axis) => axis.width };
const BROAD: Partition = { name: 'broad', rpmWidth: 1000, loadWidth: (axis) => 2 * axis.width };
/** Finest first: coarser ones serve logs too short to fill fine cells. */
export const PARTITIONS: readonly Partition[] = [
  FINE,
  BROAD,
  { name: 'load', rpmWidth: undefined, loadWidth: (axis) => 2 * axis.width },
  { name: 'off idle', rpmWidth: undefined, loadWidth: undefined },
];

const IDLE: CellRegion = { key: 'idle', idle: true, rpm: undefined, load: undefined };

/** Bands are centred on multiples of their width, so that usual cruising points do not fall on an edge. */
const bandNumber = (value: number, width: number) => Math.floor(value / width + 0.5);
const band = (number: number, width: number): readonly [number, number] => [
  (number - 0.5) * width,
  (number + 0.5) * width,
];

/** Gives operating points their region: idle as one, then a band of engine speed and of load as the partition asks. */
export interface RegionBook {
  /** Index into `regions`. */
  readonly indexAt: (idle: boolean, rpm: number, load: number) => number;
  readonly regions: readonly CellRegion[];
}

export function regionBook(partition: Partition, axis: LoadAxis | undefined): RegionBook {
  const regions: CellRegion[] = [];
  const known = new Map<number, number>();
  const enter = (code: number, region: CellRegion): number => {
    known.set(code, regions.length);
    return regions.push(region) - 1;
  };
  const { rpmWidth } = partition;
  const loadWidth = axis && partition.loadWidth?.(axis);
  const indexAt = (idle: boolean, rpm: number, load: number): number => {
    if (idle) return known.get(-1) ?? enter(-1, IDLE);
    const rpmBand = rpmWidth === undefined ? 0 : bandNumber(rpm, rpmWidth);
    const placed = loadWidth !== undefined && Number.isFinite(load);
    const loadBand = placed ? Math.max(-1, bandNumber(load, loadWidth)) : -2;
    const code = rpmBand * 1000 + loadBand + 2;
    const index = known.get(code);
    if (index !== undefined) return index;
    return enter(code, {
      key: `${rpmBand}/${loadBand}`,
      idle: false,
      rpm: rpmWidth === undefined ? undefined : band(rpmBand, rpmWidth),
      load: placed ? band(loadBand, loadWidth) : undefined,
    });
  };
  return { indexAt, regions };
}
