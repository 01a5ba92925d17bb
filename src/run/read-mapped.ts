import { columnsWanted } from '../channels/columns-wanted.ts';
import { mayBeGuessed } from '../channels/guess-layout.ts';
import { guessMapping } from '../channels/guess-mapping.ts';
import type { Mapping } from '../channels/mapping-schema.ts';
import { isPersonalColumn } from '../channels/personal-column.ts';
import { parseMapping } from '../channels/read-mapping.ts';
import { UserError } from '../kernel/user-error.ts';
import type { ReadOptions } from '../read/read-options.ts';
import { readTable } from '../read/read-table.ts';
import type { Table } from '../read/table.ts';
import type { LogInput } from './log-input.ts';
import { sha256 } from './sha256.ts';

/** A log's table with the mapping that reads it. */
export interface MappedTable {
  readonly table: Table;
  readonly mapping: Mapping;
  readonly source: {
    readonly title: string;
    readonly sha256: string;
    readonly guessed: boolean;
    readonly notes: readonly string[];
  };
  /** Every column name of the log, also of columns that were not kept. */
  readonly columnNames: readonly string[];
}

const mayShow = (column: string) => !isPersonalColumn(column);

/** Reads a log by its mapping, or guesses one from what it holds. */
export function readMapped(input: LogInput): MappedTable {
  const { name, chunks, mapping: sheet } = input;
  const names = new Set<string>();
  const read = (keep: (column: string) => boolean, options: ReadOptions = {}) =>
    readTable(
      { chunks, name },
      {
        ...options,
        mayShow,
        keep: (column) => {
          names.add(column);
          return keep(column);
        },
      },
    );
  if (sheet === undefined) {
    const table = read(mayBeGuessed);
    const { mapping, notes } = namingFiles(input, () => guessMapping(table));
    const source = { title: 'guessed from the column names', sha256: sha256(JSON.stringify(mapping)), guessed: true };
    return { table, mapping, source: { ...source, notes: [...unusedNote(input), ...notes] }, columnNames: [...names] };
  }
  const mapping = parseMapping(sheet.text, sheet.name);
  const table = read(columnsWanted(mapping), {
    dialect: mapping.dialect,
    missing: mapping.missing,
    timeByRow: 'rate' in mapping.time,
  });
  const source = { title: mapping.title ?? sheet.name, sha256: sha256(sheet.text), guessed: false, notes: [] };
  return { table, mapping, source, columnNames: [...names] };
}

/** A mapping that lies about under a name that is not looked for. */
function unusedNote({ mappingsNear: [near] = [] }: LogInput): string[] {
  return near === undefined
    ? []
    : [
        `${near} lies nearby and is not used: only pullgate.map.json is found by itself. If it is the mapping, give it with --map.`,
      ];
}

/** What goes wrong between table and recording knows no files: says which log and which mapping it was. */
export function namingFiles<T>({ name, mapping }: Pick<LogInput, 'name' | 'mapping'>, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    const where = error.where?.replace(/^mapping(?=,)/, mapping?.name ?? 'guessed mapping');
    throw new UserError(error.what, where === undefined ? name : `${name}, ${where}`, error.mend);
  }
}
