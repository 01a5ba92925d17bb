import type { Column } from '../read/table.ts';
import { findUpdates } from '../signal/held-values.ts';
import { rowIntervalS } from '../signal/row-interval.ts';
import { smallestStep } from './build-channel.ts';
import { finiteRows, pick } from './row-time.ts';
import type { TimedColumn } from './survey-columns.ts';
import { traceLine } from './survey-trace.ts';

/** What one column holds, as logged. */
export interface ColumnFacts {
  readonly column: string;
  readonly kind: Column['kind'];
  /** Share of the rows with a value, 0…1. */
  readonly coverage: number;
  /** Rows a second in which it has a value; undefined where the log tells no time. */
  readonly rowRateHz: number | undefined;
  /** True updates a second, with held repeats seen through. */
  readonly rateHz: number | undefined;
  /** Rows for which a value is held; 1 where every row is an update. */
  readonly heldRows: number;
  readonly min: number | undefined;
  readonly max: number | undefined;
  /** Smallest step between distinct values (quantisation); undefined where there are fewer than two. */
  readonly step: number | undefined;
  /** How many different values there are, at most `MOST_COUNTED`. */
  readonly distinct: number;
  /** Words among the cells. */
  readonly labels: readonly string[];
  /** The course over the log in equal stretches, 0 (lowest) to 1 (highest); null where a stretch has no value. */
  readonly trace: readonly (number | null)[];
}

/** Counting stops here: more is a measurement, not a state. */
export const MOST_COUNTED = 1000;

function countDistinct(values: Float64Array): number {
  const seen = new Set<number>();
  for (let i = 0; i < values.length && seen.size < MOST_COUNTED; i++) seen.add(values[i]);
  return seen.size;
}

function rates(time: Float64Array | undefined, values: Float64Array) {
  if (values.length < 2) return { rowRateHz: undefined, rateHz: undefined, heldRows: 1 };
  const rows = Float64Array.from(values.keys());
  const { keep } = findUpdates(rows, values);
  const heldRows = values.length / keep.length;
  if (!time) return { rowRateHz: undefined, rateHz: undefined, heldRows };
  const { rateHz } = findUpdates(time, values);
  return { rowRateHz: 1 / rowIntervalS(time), rateHz, heldRows };
}

function range(values: Float64Array) {
  let min = values[0];
  let max = values[0];
  for (const value of values) {
    if (value < min) min = value;
    if (value > max) max = value;
  }
  return { min, max };
}

/** Facts of one column. */
export function columnFacts({ column, time }: TimedColumn): ColumnFacts {
  const known = time ? column.values.map((value, i) => (Number.isFinite(time[i]) ? value : Number.NaN)) : column.values;
  const rows = finiteRows(known);
  const values = pick(known, rows);
  const texts = column.codes?.reduce((count, code) => count + (code >= 0 ? 1 : 0), 0) ?? 0;
  const filled = values.length + texts;
  const own = time && pick(time, rows);
  const step = values.length > 1 ? smallestStep(values) : 0;
  return {
    column: column.name,
    kind: column.kind,
    coverage: column.values.length > 0 ? filled / column.values.length : 0,
    ...rates(own, values),
    ...(values.length > 0 ? range(values) : { min: undefined, max: undefined }),
    step: step > 0 ? step : undefined,
    distinct: countDistinct(values),
    labels: column.labels,
    trace: traceLine(own, values),
  };
}
