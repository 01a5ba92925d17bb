import type { Column, Table } from '../read/table.ts';
import { secondsAfter } from './clock.ts';
import type { LogShape } from './guess-layout.ts';
import type { Mapping } from './mapping-schema.ts';
import { candidates } from './match-column.ts';
import { mendTime } from './mend-time.ts';
import { stampsOf } from './row-time.ts';

/** A column with the time of each of its cells, in seconds; without where the log tells no time. */
export interface TimedColumn {
  readonly column: Column;
  readonly time: Float64Array | undefined;
}

/** The stamps of a log as they stand, in seconds after the first, and the rows that have one. */
export interface RawClock {
  readonly column: string;
  readonly seconds: Float64Array;
  readonly rows: Uint32Array | undefined;
}

/** The log's own clock before it is mended; undefined for a log without one. */
export function rawClock(table: Table, mapping: Mapping): RawClock | undefined {
  if ('rate' in mapping.time) return undefined;
  const names = table.columns.map((column) => column.name);
  const [index] = candidates(mapping.time.column, names);
  if (index === undefined) return undefined;
  const column = table.columns[index];
  const { rows, stamps, clock } = stampsOf(column, mapping.time.unit, 'time.column');
  return { column: column.name, seconds: secondsAfter(stamps, stamps[0], clock.unit), rows };
}

/** The stamps that show the pace of a log: all of them, in a long log those of its commonest name. */
export function paceOf({ seconds, rows }: RawClock, { rowsOf }: LogShape): Float64Array {
  if (!rowsOf || rows) return seconds;
  const [commonest] = [...rowsOf.values()].sort((a, b) => b.length - a.length);
  return Float64Array.from(commonest, (row) => seconds[row]);
}

/** Mended time of every row of the table; NaN for rows without a stamp. */
function timeOfRows(table: Table, mapping: Mapping, clock: RawClock | undefined): Float64Array | undefined {
  if ('rate' in mapping.time) {
    const { rate } = mapping.time;
    return Float64Array.from({ length: table.rowCount }, (_, row) => row / rate);
  }
  if (!clock) return undefined;
  const { time } = mapping.layout === 'long' ? { time: clock.seconds } : mendTime(clock.seconds);
  if (!clock.rows) return time;
  const whole = new Float64Array(table.rowCount).fill(Number.NaN);
  for (const [k, row] of clock.rows.entries()) whole[row] = time[k];
  return whole;
}

/** The columns that are looked at, each with its time; the time column itself is left out. */
export function timedColumns(table: Table, shape: LogShape, mapping?: Mapping, clock?: RawClock): TimedColumn[] {
  const time = mapping && timeOfRows(table, mapping, clock);
  return shape.columns
    .filter(({ name }) => name !== clock?.column)
    .map((column) => {
      const rows = shape.rowsOf?.get(column.name);
      return { column, time: time && rows ? Float64Array.from(rows, (row) => time[row]) : time };
    });
}
