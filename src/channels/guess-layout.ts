import type { Column, Table } from '../read/table.ts';
import { recogniseUnit } from '../units/recognise-unit.ts';
import { channelByName } from './guess-name.ts';
import { foldAccents } from './guess-words.ts';
import { wordsOf } from './header-unit.ts';
import type { Mapping } from './mapping-schema.ts';
import { isPersonalColumn } from './personal-column.ts';

/** How a log lies in its table, seen as one column for each quantity. */
export interface LogShape {
  /** Columns that may be channels: the file's own, or in a long log one for each name. */
  readonly columns: readonly Column[];
  /** Columns of the file that may hold the time. */
  readonly timeColumns: readonly Column[];
  /** Of a log with a row per sample. */
  readonly long: Mapping['long'];
  /** Of such a log: the rows of each name. */
  readonly rowsOf: ReadonlyMap<string, Uint32Array> | undefined;
}

const NAME_WORDS =
  'name nom nombre nome naam nazwa bezeichnung channel kanal canal canale signal parameter pid item quantity groesse';
const VALUE_WORDS = 'value wert valeur valor valore wartosc waarde reading messwert data';
const UNIT_WORDS = 'unit units einheit unite unidad unidade unita jednostka eenheid';

const isOneOf = (name: string, words: string) => {
  const [only, ...more] = wordsOf(name);
  return only !== undefined && more.length === 0 && words.split(' ').includes(foldAccents(only));
};

/** A bare "Name" tells a person's name, or in a log with a row per sample the channel's: it may be looked at, never shown unless the latter. */
export const mayNameChannels = (name: string): boolean => isOneOf(name, NAME_WORDS);

/** Which columns may be read for guessing: none that is personal, except one that may name channels. */
export const mayBeGuessed = (name: string): boolean => !isPersonalColumn(name) || mayNameChannels(name);

const MOST_NAMES = 200;
/** Names of a long log come back again and again. */
const LEAST_ROWS_PER_NAME = 3;

const namesChannels = (column: Column): boolean =>
  column.kind === 'text' &&
  column.labels.length >= 2 &&
  column.labels.length <= MOST_NAMES &&
  column.values.length >= LEAST_ROWS_PER_NAME * column.labels.length &&
  column.labels.filter((label) => channelByName(label) !== undefined).length >= 2;

const namesUnits = (column: Column): boolean =>
  column.kind === 'text' && (isOneOf(column.name, UNIT_WORDS) || column.labels.every((label) => recogniseUnit(label)));

/** The rows of one name as a column of their own. */
function columnOfName(label: string, rows: Uint32Array, value: Column, unit: Column | undefined): Column {
  const codes = value.codes;
  const unitText = unit && rows.length > 0 ? unit.labels[unit.codes?.[rows[0]] ?? -1] : undefined;
  return {
    name: label,
    repeats: undefined,
    unitText,
    kind: value.kind,
    values: Float64Array.from(rows, (row) => value.values[row]),
    labels: value.labels,
    codes: codes && Int32Array.from(rows, (row) => codes[row]),
  };
}

/** The cells of a column in the rows of the commonest name: the pace of a long log shows within one name, not from row to row. */
function ofCommonest(column: Column, rowsOf: ReadonlyMap<string, Uint32Array>): Column {
  const [rows] = [...rowsOf.values()].sort((a, b) => b.length - a.length);
  const { codes } = column;
  return {
    ...column,
    values: Float64Array.from(rows, (row) => column.values[row]),
    codes: codes && Int32Array.from(rows, (row) => codes[row]),
  };
}

function longShape(table: Table): LogShape | undefined {
  const name = table.columns.find(namesChannels);
  if (!name?.codes) return undefined;
  const rest = table.columns.filter((column) => column !== name);
  const value = rest.find((column) => column.kind === 'number' && isOneOf(column.name, VALUE_WORDS));
  if (!value) return undefined;
  const unit = rest.find((column) => column !== value && namesUnits(column));
  const lists = name.labels.map(() => [] as number[]);
  for (const [row, code] of name.codes.entries()) if (code >= 0) lists[code].push(row);
  const rowsOf = new Map(name.labels.map((label, i) => [label, Uint32Array.from(lists[i])]));
  return {
    rowsOf,
    columns: [...rowsOf]
      .map(([label, rows]) => columnOfName(label, rows, value, unit))
      .filter((column) => !isPersonalColumn(column.name)),
    timeColumns: rest
      .filter((column) => column !== value && column !== unit && !isPersonalColumn(column.name))
      .map((column) => ofCommonest(column, rowsOf)),
    long: { name: name.name, value: value.name, ...(unit && { unit: unit.name }) },
  };
}

/** Whether the log has a row per sample or a column per channel, and what may be a channel in it. Personal columns are left out. */
export function shapeOf(table: Table): LogShape {
  const long = longShape(table);
  if (long) return long;
  const columns = table.columns.filter(({ name }) => !isPersonalColumn(name));
  return { columns, timeColumns: columns, long: undefined, rowsOf: undefined };
}
