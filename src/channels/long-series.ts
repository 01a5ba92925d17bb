import { formatQuantity } from '../kernel/format-number.ts';
import type { Column, Table } from '../read/table.ts';
import { median } from '../signal/median.ts';
import type { CellSeries } from './cell-series.ts';
import { secondsAfter, startNote } from './clock.ts';
import { mappedChannels } from './columns-wanted.ts';
import { mayNameChannels } from './guess-layout.ts';
import type { Mapping } from './mapping-schema.ts';
import { findColumn } from './match-column.ts';
import { mendTime } from './mend-time.ts';
import { isPersonalColumn, shownColumn } from './personal-column.ts';
import type { TimeSegment } from './recording.ts';
import { pick, stampsOf } from './row-time.ts';
import { unusualPace } from './unusual-pace.ts';

export interface LongLog {
  readonly series: readonly CellSeries[];
  readonly segments: readonly TimeSegment[];
  readonly notes: readonly string[];
}

/** What the name column says at a row, as an index into `names`; -1 where it is blank. */
function nameCodes(column: Column): { names: string[]; codes: Int32Array } {
  const names = [...column.labels];
  const codes = new Int32Array(column.values.length).fill(-1);
  const numeric = new Map<number, number>();
  for (let row = 0, n = codes.length; row < n; row++) {
    const value = column.values[row];
    if (column.codes && column.codes[row] >= 0) codes[row] = column.codes[row];
    else if (Number.isFinite(value)) {
      if (!numeric.has(value)) numeric.set(value, names.push(String(value)) - 1);
      codes[row] = numeric.get(value) as number;
    }
  }
  return { names, codes };
}

/** Rows of each name in the order of the file. */
function rowsByName(codes: Int32Array, count: number, rows: Uint32Array | undefined): Uint32Array[] {
  const lists = Array.from({ length: count }, () => [] as number[]);
  for (const row of rows ?? Uint32Array.from(codes.keys())) if (codes[row] >= 0) lists[codes[row]].push(row);
  return lists.map((list) => Uint32Array.from(list));
}

/** Whether the file holds one channel after another rather than all channels as time goes on. */
function isGrouped(codes: Int32Array, names: number): boolean {
  let changes = 0;
  for (let row = 1, n = codes.length; row < n; row++) if (codes[row] !== codes[row - 1]) changes++;
  return names > 1 && changes < 2 * names;
}

interface Onward {
  readonly stamps: Float64Array;
  /** Size of each backward step and the last time before it. */
  readonly steps: readonly { readonly size: number; readonly after: number }[];
}

/**
 * A clock that starts again is carried over for all channels alike: rows are read in order, and a stamp further behind the latest one than the
 * channels' own scatter opens a new stretch.
 */
function carriedOver(stamps: Float64Array, scatterS: number): Onward {
  const result = new Float64Array(stamps.length);
  const steps: { size: number; after: number }[] = [];
  let shift = 0;
  let latest = stamps[0];
  for (let i = 0, n = stamps.length; i < n; i++) {
    const behind = latest - stamps[i] - shift;
    if (behind > scatterS) {
      steps.push({ size: behind, after: latest });
      shift += behind + scatterS;
    }
    result[i] = stamps[i] + shift;
    latest = Math.max(latest, result[i]);
  }
  return { stamps: result, steps };
}

/** Whether any channel's own stamps go back by more than scatter: only then did the clock start again. */
function anyRestart(lists: readonly Uint32Array[], seconds: Float64Array, scatterS: number): boolean {
  return lists.some((rows) => rows.some((row, k) => k > 0 && seconds[rows[k - 1]] - seconds[row] > scatterS));
}

const SCATTER_LEAST_S = 0.5;

/** Stretches of the whole log from the times of all channels. */
function stretches(times: readonly Float64Array[], breaks: readonly number[]): TimeSegment[] {
  const all = new Float64Array(times.reduce((sum, time) => sum + time.length, 0));
  let filled = 0;
  for (const time of times) {
    all.set(time, filled);
    filled += time.length;
  }
  all.sort();
  const steps = times
    .filter((time) => time.length > 1)
    .map((time) => (time[time.length - 1] - time[0]) / (time.length - 1));
  const gapS = Math.max(1, 10 * (steps.length > 0 ? median(steps) : 0));
  const segments: { startS: number; endS: number }[] = [];
  for (const t of all) {
    const last = segments.at(-1);
    const isBreak = last && breaks.some((after) => last.endS <= after && t > after);
    if (last && !isBreak && t - last.endS <= gapS) last.endS = t;
    else segments.push({ startS: t, endS: t });
  }
  return segments;
}

/** The cells of every mapped channel of a log with a row per sample. */
export function longSeries(table: Table, mapping: Mapping, present: readonly string[]): LongLog {
  const { long, time } = mapping;
  if (!long || !('column' in time)) throw new Error('a long mapping without its columns passed the check');
  const columns = table.columns.map((column) => column.name);
  const columnOf = (name: string, key: string) => table.columns[findColumn(name, columns, key, present)];
  const timeColumn = columnOf(time.column, 'time.column');
  const { rows, stamps, clock } = stampsOf(timeColumn, time.unit, 'time.column');
  const { names, codes } = nameCodes(columnOf(long.name, 'long.name'));
  const shown =
    isPersonalColumn(long.name) && !mayNameChannels(long.name) ? [] : names.filter((one) => !isPersonalColumn(one));
  const value = columnOf(long.value, 'long.value');
  const unit = long.unit === undefined ? undefined : columnOf(long.unit, 'long.unit');
  const lists = rowsByName(codes, names.length, rows);
  const elapsed = secondsAfter(stamps, stamps[0], clock.unit);
  const scatterS = scatterOf(elapsed, names.length);
  const restarts = !isGrouped(codes, names.length) && anyRestart(lists, byRow(elapsed, rows, table.rowCount), scatterS);
  const onward: Onward = restarts ? carriedOver(elapsed, scatterS) : { stamps: elapsed, steps: [] };
  const start = minimum(onward.stamps);
  const seconds = byRow(
    onward.stamps.map((stamp) => stamp - start),
    rows,
    table.rowCount,
  );
  const series = mappedChannels(mapping).map(([id, source]): CellSeries => {
    const index = findColumn(source.column, names, `channels.${id}`, shown);
    const own = lists[index];
    const unitText = unit && own.length > 0 ? unit.labels[unit.codes?.[own[0]] ?? -1] : undefined;
    const mended = own.length > 1 ? mendTime(pick(seconds, own)) : undefined;
    return {
      id,
      source,
      column: { name: names[index], unitText },
      time: mended?.time ?? pick(seconds, own),
      values: pick(value.values, own),
      labels: value.labels,
      codes: value.codes && Int32Array.from(own, (row) => (value.codes as Int32Array)[row]),
      notes: mended?.notes ?? [],
    };
  });
  const backward = onward.steps.map(
    ({ size }) => `Time goes back by ${formatQuantity(size, 's')}; the log goes on from there as a new stretch.`,
  );
  const longest = series.reduce<Float64Array>(
    (most, { time: own }) => (own.length > most.length ? own : most),
    new Float64Array(),
  );
  const notes = [
    ...clock.notes,
    startNote(stamps[0], clock.unit),
    ...backward,
    unusualPace(longest, clock.unit, shownColumn(timeColumn.name)),
  ].filter((note) => note !== undefined);
  return {
    series,
    segments: stretches(
      series.map((s) => s.time),
      onward.steps.map(({ after }) => after - start),
    ),
    notes,
  };
}

/** Stamps spread over the rows of the table; NaN where a row has none. */
function byRow(stamps: Float64Array, rows: Uint32Array | undefined, rowCount: number): Float64Array {
  if (!rows) return stamps;
  const result = new Float64Array(rowCount).fill(Number.NaN);
  for (const [k, row] of rows.entries()) result[row] = stamps[k];
  return result;
}

function minimum(values: Float64Array): number {
  let least = values[0];
  for (const value of values) if (value < least) least = value;
  return least;
}

/** How far the stamps of channels that alternate may lie behind each other: a few rounds of all channels. */
function scatterOf(elapsed: Float64Array, names: number): number {
  const forward: number[] = [];
  for (let i = 1, n = elapsed.length; i < n; i++)
    if (elapsed[i] > elapsed[i - 1]) forward.push(elapsed[i] - elapsed[i - 1]);
  return forward.length === 0 ? SCATTER_LEAST_S : Math.max(SCATTER_LEAST_S, 3 * names * median(forward));
}
