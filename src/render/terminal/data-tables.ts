import type { DataTable } from '../../analysers/finding.ts';
import { formatNumber } from '../../kernel/format-number.ts';
import type { Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { closeTogether, type TableColumn, textTable, unbrokenWidths } from './text-table.ts';
import { BOUND, wrap } from './wrap.ts';

/** Units that a header need not name. */
const UNSAID = ['', 'ratio', 'number', 'count'];
const MOST_KEY_COLUMNS = 3;
/** `"1,250 to 1,750"`, `"cylinder 3"`: stays on one line. */
const ONE_THING = /^\S+ (to \S+|\d+)$/;

/** The analysers' own tables. One that is too wide goes on below, the columns that tell its rows apart repeated. */
export function dataTables({ analysers }: Report, width: number, paint: Paint): string[] {
  const tables = analysers.flatMap((answer) => answer.tables ?? []).filter((table) => table.rows.length > 0);
  return tables.flatMap((table, i) => [
    ...(i > 0 ? [''] : []),
    ...wrap(table.title, width).map(paint.strong),
    ...blocks(table, width, paint),
  ]);
}

function blocks(table: DataTable, width: number, paint: Paint): string[] {
  const columns = table.columns.map(
    ({ name, unit }, i): TableColumn => ({
      name: UNSAID.includes(unit) ? name : `${name} (${unit.replaceAll(' ', BOUND)})`,
      align: table.rows.some((row) => typeof row[i] === 'string') ? 'left' : 'right',
    }),
  );
  const rows = table.rows.map((row) => row.map((cell, i) => cellText(cell, table.columns[i].unit)));
  return columnGroups(columns, rows, width).flatMap((group) =>
    textTable(
      group.map((i) => columns[i]),
      rows.map((row) => group.map((i) => row[i])),
      width,
      paint.faint,
    ),
  );
}

/** Which columns stand beside each other; one without any content is left out. */
function columnGroups(columns: readonly TableColumn[], rows: readonly string[][], width: number): number[][] {
  const least = unbrokenWidths(columns, rows);
  const fits = (group: readonly number[]) => closeTogether(group.map((i) => least[i])) <= width;
  const keys = Array.from({ length: keyCount(rows) }, (_, i) => i);
  const groups: number[][] = [];
  let group = keys;
  for (let i = keys.length; i < columns.length; i++) {
    if (rows.every((row) => row[i] === '')) continue;
    if (group.length > keys.length && !fits([...group, i])) {
      groups.push(group);
      group = keys;
    }
    group = [...group, i];
  }
  return [...groups, group];
}

/** How many of the first columns it takes to tell the rows apart. */
function keyCount(rows: readonly string[][]): number {
  for (let count = 1; count <= MOST_KEY_COLUMNS; count++) {
    if (new Set(rows.map((row) => JSON.stringify(row.slice(0, count)))).size === rows.length) return count;
  }
  return 1;
}

/** The header names the unit, so a cell need not repeat it. */
function cellText(cell: string | number | null, unit: string): string {
  if (cell === null) return '–';
  if (typeof cell === 'number') return formatNumber(cell, unit);
  const short = unit !== '' && cell.endsWith(` ${unit}`) ? cell.slice(0, -unit.length - 1) : cell;
  return ONE_THING.test(short) ? short.replaceAll(' ', BOUND) : short;
}
