import { UserError } from '../kernel/user-error.ts';
import type { Table } from '../read/table.ts';
import { type BarometricOptions, barometricAt, barometricOf } from './barometric.ts';
import { buildChannel } from './build-channel.ts';
import type { ChannelId } from './catalogue.ts';
import type { CellSeries } from './cell-series.ts';
import { canonicalReference } from './channel-kind.ts';
import { channelUnit } from './channel-unit.ts';
import { foreignLog } from './foreign-log.ts';
import { longSeries } from './long-series.ts';
import type { Mapping } from './mapping-schema.ts';
import { isPersonalColumn, shownColumn } from './personal-column.ts';
import { manifoldReference, type Pressure, type Reference, railReference } from './pressure-reference.ts';
import type { Channel, Recording, TimeSegment } from './recording.ts';
import { rowTime } from './row-time.ts';
import { numbersOf } from './text-values.ts';
import { toCanonical } from './to-canonical.ts';
import { wideSeries } from './wide-series.ts';

export interface NormaliseOptions extends BarometricOptions {
  /** All column names of the log that may be shown, where the table holds only those that were read. */
  readonly columnNames?: readonly string[] | undefined;
}

/** A channel in canonical unit whose reference is not settled yet. */
interface Draft extends Pressure {
  readonly notes: readonly string[];
}

interface Log {
  readonly series: readonly CellSeries[];
  readonly segments: readonly TimeSegment[];
  readonly notes: readonly string[];
}

/** What the mapping names in the log. Where a column is missing, and most are, the log is another logger's, and that is what is said. */
function seriesOf(table: Table, mapping: Mapping, present: readonly string[]): Log {
  try {
    return namedSeries(table, mapping, present);
  } catch (error) {
    const names = table.columns.map(({ name }) => name);
    throw (error instanceof UserError && foreignLog(mapping, names)) || error;
  }
}

function namedSeries(table: Table, mapping: Mapping, present: readonly string[]): Log {
  if (mapping.layout === 'long') return longSeries(table, mapping, present);
  const time = rowTime(table, mapping, present);
  return { series: wideSeries(table, mapping, time, present), segments: time.segments, notes: time.notes };
}

function draftOf(series: CellSeries): Draft {
  const unit = channelUnit(series);
  const numbers = numbersOf(series);
  const canonical = toCanonical(series, unit, numbers.values);
  return {
    series,
    unit,
    values: canonical.values,
    notes: [...series.notes, ...unit.notes, ...numbers.notes, ...canonical.notes],
  };
}

/** The mapped channels before their references are settled. */
export function draftsOf(table: Table, mapping: Mapping): Map<ChannelId, Draft> {
  const { series } = seriesOf(table, mapping, []);
  return new Map(series.map((one) => [one.id, draftOf(one)]));
}

/** Gauge or absolute for every pressure that could be either; a channel whose reference stays open is named with the reason. */
function settleReferences(drafts: ReadonlyMap<ChannelId, Draft>) {
  const references = new Map<ChannelId, Reference>();
  const leftOut = new Map<ChannelId, string>();
  const engine = drafts.get('engine_speed');
  for (const id of ['manifold_pressure', 'manifold_pressure_target'] as const) {
    const draft = drafts.get(id);
    if (!draft) continue;
    const like = id === 'manifold_pressure' ? undefined : references.get('manifold_pressure')?.reference;
    const settled = manifoldReference(draft, engine, like);
    if ('leftOut' in settled) leftOut.set(id, settled.leftOut);
    else references.set(id, settled);
  }
  for (const id of ['fuel_rail_pressure', 'fuel_rail_pressure_target'] as const) {
    const draft = drafts.get(id);
    if (draft) references.set(id, railReference(draft));
  }
  return { references, leftOut };
}

/**
 * Reads a table as channels in canonical units, each on its own time base, by a mapping. A mapping that does not fit the log is a UserError whose
 * place is `mapping, key path`; the caller knows the files.
 */
export function normalise(table: Table, mapping: Mapping, options: NormaliseOptions = {}): Recording {
  if (table.rowCount === 0) {
    throw new UserError('the log has a header but no data rows.', undefined, 'Record again, or choose another log.');
  }
  const names = options.columnNames ?? table.columns.map((column) => column.name);
  const ignored = new Set(mapping.ignore ?? []);
  const log = seriesOf(
    table,
    mapping,
    names.filter((name) => !ignored.has(name) && !isPersonalColumn(name)),
  );
  const drafts = new Map(log.series.map((series) => [series.id, draftOf(series)]));
  const { references, leftOut } = settleReferences(drafts);
  const notes = [...log.notes, ...leftOut.values()];
  const build = (draft: Draft, values: Float64Array): Channel | undefined => {
    const note = references.get(draft.series.id)?.note;
    return buildChannel(draft.series, values, note ? [...draft.notes, note] : draft.notes);
  };
  const asLogged = new Map<ChannelId, Channel | undefined>();
  const channelAsLogged = (id: ChannelId): Channel | undefined => {
    const draft = drafts.get(id);
    if (!asLogged.has(id)) asLogged.set(id, draft && build(draft, draft.values));
    return asLogged.get(id);
  };
  const airChannel = channelAsLogged('barometric_pressure');
  const isAbsolute = references.get('manifold_pressure')?.reference === 'absolute';
  const barometric = barometricOf(
    airChannel,
    isAbsolute ? channelAsLogged('manifold_pressure') : undefined,
    channelAsLogged('engine_speed'),
    options,
  );
  const channels = new Map<ChannelId, Channel>();
  for (const [id, draft] of drafts) {
    if (leftOut.has(id)) continue;
    const reference = references.get(id)?.reference ?? canonicalReference(id);
    const sign = reference === canonicalReference(id) ? 0 : reference === 'gauge' ? 1 : -1;
    const air = sign === 0 ? undefined : barometricAt(barometric, airChannel, draft.series.time);
    const channel = air
      ? build(
          draft,
          draft.values.map((v, i) => v + sign * air[i]),
        )
      : channelAsLogged(id);
    if (channel) channels.set(id, channel);
    else notes.push(`${shownColumn(draft.series.column.name)} (${id}) holds no value in this log.`);
  }
  if (channels.size === 0) {
    throw new UserError(
      'no mapped channel holds a value.',
      undefined,
      'Check the log and the columns the mapping names.',
    );
  }
  return {
    durationS: log.segments.length > 0 ? log.segments[log.segments.length - 1].endS : 0,
    rowCount: table.rowCount,
    segments: log.segments,
    channels,
    barometric,
    notes: [...notes, barometric.note],
  };
}
