import { UserError } from '../kernel/user-error.ts';
import type { Column, Table } from '../read/table.ts';
import type { ChannelId } from './catalogue.ts';
import type { CellSeries } from './cell-series.ts';
import { clockOf, secondsAfter, timeUnitInHeader } from './clock.ts';
import { mappedChannels } from './columns-wanted.ts';
import type { ChannelSource, Mapping } from './mapping-schema.ts';
import { findColumn } from './match-column.ts';
import { mendTime } from './mend-time.ts';
import { shownColumn } from './personal-column.ts';
import { pick, type RowTime } from './row-time.ts';

const pickCodes = (codes: Int32Array | undefined, rows: Uint32Array | undefined) =>
  codes && rows ? Int32Array.from(rows, (row) => codes[row]) : codes;

/** Rows of the table with a value and a stamp of their own that is not the one before with the same value. */
function ownRows(cells: Column, stamps: Float64Array, rows: Uint32Array | undefined): Uint32Array {
  const kept: number[] = [];
  const consider = rows ?? Uint32Array.from(cells.values.keys());
  for (const row of consider) {
    const hasValue = Number.isFinite(cells.values[row]) || (cells.codes !== undefined && cells.codes[row] >= 0);
    if (!hasValue || !Number.isFinite(stamps[row])) continue;
    const last = kept.at(-1);
    if (last !== undefined && stamps[last] === stamps[row] && cells.values[last] === cells.values[row]) continue;
    kept.push(row);
  }
  return Uint32Array.from(kept);
}

/** A channel's own stamps on the log's clock. Their unit is in their header, else it is that of the log's time. */
function ownTime(column: Column, rows: Uint32Array, log: RowTime) {
  const logUnit = column.kind === 'number' ? log.clock?.unit : undefined;
  const clock = clockOf(column, timeUnitInHeader(column) ?? logUnit);
  const stamps = pick(column.values, rows);
  const base = log.clock && log.clock.unit === clock.unit ? log.clock.base : stamps[0];
  return { mended: mendTime(secondsAfter(stamps, base, clock.unit)), notes: clock.notes };
}

const isAlike = (a: Column, b: Column): boolean =>
  a.values.every(
    (value, row) =>
      Object.is(value, b.values[row]) && a.labels[a.codes?.[row] ?? -1] === b.labels[b.codes?.[row] ?? -1],
  );

/** A column whose name a later one has too may only be read where both say the same. */
function refuseTwins(column: Column, table: Table, key: string): void {
  const twin = table.columns.find(({ repeats }) => repeats !== undefined && repeats === column.name);
  if (!twin || isAlike(column, twin)) return;
  throw new UserError(
    `several columns are named ${shownColumn(column.name)}, and they differ.`,
    `mapping, ${key}`,
    `Rename one of them in the log, or name the later one ${shownColumn(twin.name)}.`,
  );
}

/** The cells of every mapped channel of a log with a column per channel. */
export function wideSeries(table: Table, mapping: Mapping, log: RowTime, present: readonly string[]): CellSeries[] {
  const names = table.columns.map((column) => column.name);
  const columnOf = (name: string, key: string) => table.columns[findColumn(name, names, key, present)];
  const channelColumn = (name: string, key: string) => {
    const column = columnOf(name, key);
    refuseTwins(column, table, key);
    return column;
  };
  const seriesOf = ([id, source]: [ChannelId, ChannelSource]): CellSeries => {
    const key = `channels.${id}`;
    const cells = channelColumn(source.column, key);
    const common = { id, source, column: cells, labels: cells.labels };
    if (source.time === undefined) {
      const values = pick(cells.values, log.rows);
      return { ...common, time: log.time, values, codes: pickCodes(cells.codes, log.rows), notes: [] };
    }
    const timeColumn = columnOf(source.time, `${key}.time`);
    const rows = ownRows(cells, timeColumn.values, log.rows);
    if (rows.length < 2) {
      const empty = { time: new Float64Array(), values: new Float64Array(), codes: undefined };
      return { ...common, ...empty, notes: [] };
    }
    const { mended, notes } = ownTime(timeColumn, rows, log);
    const own = { time: mended.time, values: pick(cells.values, rows), codes: pickCodes(cells.codes, rows) };
    return { ...common, ...own, notes: [...notes, ...mended.notes] };
  };
  return mappedChannels(mapping).map((entry) => {
    try {
      return seriesOf(entry);
    } catch (error) {
      if (error instanceof UserError && error.where === 'time') {
        throw new UserError(error.what, `mapping, channels.${entry[0]}.time`, error.mend);
      }
      throw error;
    }
  });
}
