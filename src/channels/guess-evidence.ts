import { holdAt } from '../signal/interpolate.ts';
import { median } from '../signal/median.ts';
import { quantile } from '../signal/quantile.ts';
import type { ChannelId } from './catalogue.ts';
import { finiteRows, pick } from './row-time.ts';

/** Finite values of a column on their own time. */
export interface Trace {
  readonly time: Float64Array;
  readonly values: Float64Array;
}

/** What the log shows of each candidate: numbers in the unit its header names, or as they stand. */
export type Evidence = ReadonlyMap<ChannelId, Trace>;

/** Without the cells that hold no number. */
export function traceOf(time: Float64Array, values: Float64Array): Trace {
  const rows = finiteRows(values);
  return { time: pick(time, rows), values: pick(values, rows) };
}

/** A value of engine speed speaks for this long. */
const SPEED_HOLDS_S = 2;
const IDLE_RPM = [450, 1250] as const;
const FEWEST = 5;

/** Median of a column while engine speed lies in a band; undefined where too few samples do. */
export function levelWhile(trace: Trace, engine: Trace | undefined, low: number, high: number): number | undefined {
  if (!engine || engine.values.length === 0) return undefined;
  const isOneTime = engine.time === trace.time;
  const speed = isOneTime ? engine.values : holdAt(engine.time, engine.values, trace.time, SPEED_HOLDS_S);
  const picked = trace.values.filter((_, i) => speed[i] >= low && speed[i] <= high);
  return picked.length >= FEWEST ? median(picked) : undefined;
}

/** Levels at which the engine is known to stand in a certain way. */
export interface Levels {
  readonly off: number | undefined;
  readonly idle: number | undefined;
  readonly low: number;
  readonly top: number;
}

/** Level with the engine off and near idle, and the ends of the range without strays. Needs at least one value. */
export function levelsOf(trace: Trace, engine: Trace | undefined): Levels {
  return {
    off: levelWhile(trace, engine, 0, 0),
    idle: levelWhile(trace, engine, ...IDLE_RPM),
    low: quantile(trace.values, 0.01),
    top: quantile(trace.values, 0.995),
  };
}

/** Highest engine speed that the log holds, without strays; 0 where there is none. */
export const topSpeedOf = (engine: Trace | undefined): number =>
  engine && engine.values.length > 0 ? quantile(engine.values, 0.995) : 0;
