import { UserError } from '../kernel/user-error.ts';
import type { Column, Table } from '../read/table.ts';
import { picked } from '../signal/picked.ts';
import { clockOf, secondsAfter, startNote } from './clock.ts';
import type { Mapping, TimeUnit } from './mapping-schema.ts';
import { candidates, findColumn } from './match-column.ts';
import { type MendedTime, mendTime } from './mend-time.ts';
import { shownColumn } from './personal-column.ts';
import { refuseNoClock, unusualPace } from './unusual-pace.ts';

/** The log's rows on one clock. */
export interface RowTime extends MendedTime {
  /** Rows of the table that have a time; all rows where undefined. */
  readonly rows: Uint32Array | undefined;
  /** The first stamp as logged and its unit, for channels with their own time column. */
  readonly clock: { readonly base: number; readonly unit: TimeUnit } | undefined;
}

/** Whether no value is blank or beyond all numbers. Node's own search does not need warming up as a loop does. */
const areFinite = (values: Float64Array): boolean =>
  !values.includes(Number.NaN) &&
  !values.includes(Number.POSITIVE_INFINITY) &&
  !values.includes(Number.NEGATIVE_INFINITY);

/** Indices of the finite values; undefined where all are. */
export function finiteRows(values: Float64Array): Uint32Array | undefined {
  if (areFinite(values)) return undefined;
  const rows = new Uint32Array(values.length);
  let count = 0;
  for (let i = 0, n = values.length; i < n; i++) if (Number.isFinite(values[i])) rows[count++] = i;
  return rows.slice(0, count);
}

export function pick(values: Float64Array, rows: Uint32Array | undefined): Float64Array {
  return rows ? picked(values, rows) : values;
}

/** The time column, its stamps where there are any, and how it counts. */
export function stampsOf(column: Column, stated: TimeUnit | undefined, key: string) {
  const rows = finiteRows(column.values);
  const stamps = pick(column.values, rows);
  if (stamps.length === 0) {
    throw new UserError(
      `the time column ${shownColumn(column.name)} holds no times.`,
      `mapping, ${key}`,
      'Name the column that holds the time of each row.',
    );
  }
  return { rows, stamps, clock: clockOf(column, stated) };
}

function fromRate(rowCount: number, rate: number): RowTime {
  if (rowCount < 2) throw new UserError('the log has one row only.', undefined, 'A log needs at least two.');
  const time = Float64Array.from({ length: rowCount }, (_, i) => i / rate);
  const notes = [`The log has no time column; its rows are taken as ${rate} a second, as the mapping says.`];
  return { rows: undefined, time, segments: [{ startS: 0, endS: time[rowCount - 1] }], notes, clock: undefined };
}

/** Times that start at zero: the first row's own time is taken off. */
function fromZero(mended: MendedTime): MendedTime {
  const start = mended.time[0];
  if (start === 0) return mended;
  return {
    ...mended,
    time: mended.time.map((t) => t - start),
    segments: mended.segments.map(({ startS, endS }) => ({ startS: startS - start, endS: endS - start })),
  };
}

/** A log may have no time column at all: says what to write then. */
function timeColumn(wanted: string, names: readonly string[], present: readonly string[]): number {
  try {
    return findColumn(wanted, names, 'time.column', present);
  } catch (error) {
    if (!(error instanceof UserError) || candidates(wanted, names).length > 0) throw error;
    const mend = `${error.mend ?? ''} For a log without a time column write "time": { "rate": 20 }, its rows per second.`;
    throw new UserError(error.what, error.where, mend.trim());
  }
}

/** Seconds since the first row, for every row that has a time. Throws a UserError where there is no usable time. */
export function rowTime(table: Table, mapping: Mapping, present: readonly string[]): RowTime {
  if ('rate' in mapping.time) return fromRate(table.rowCount, mapping.time.rate);
  const names = table.columns.map((column) => column.name);
  const column = table.columns[timeColumn(mapping.time.column, names, present)];
  const { rows, stamps, clock } = stampsOf(column, mapping.time.unit, 'time.column');
  const raw = secondsAfter(stamps, stamps[0], clock.unit);
  const mended = mendTime(raw);
  refuseNoClock(raw, mended.segments.length, shownColumn(column.name));
  const blank = table.rowCount - stamps.length;
  const notes = [
    ...clock.notes,
    startNote(stamps[0], clock.unit),
    blank > 0 ? `${blank === 1 ? '1 row without a time is' : `${blank} rows without a time are`} left out.` : undefined,
    ...mended.notes,
    unusualPace(mended.time, clock.unit, shownColumn(column.name)),
  ].filter((note) => note !== undefined);
  return { ...fromZero(mended), rows, notes, clock: { base: stamps[0], unit: clock.unit } };
}
