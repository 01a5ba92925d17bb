import type { DataTable } from '../../analysers/finding.ts';
import { formatNumber } from '../../kernel/format-number.ts';
import type { Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { leastWidth, type TableColumn, textTable } from './text-table.ts';
import { wrap } from './wrap.ts';

/** Units that a header need not name. */
const UNSAID = ['', 'ratio', 'number', 'count'];

/** The analysers' own tables. One that is too wide goes on below, its first column repeated. */
export function dataTables({ analysers }: Report, width: number, paint: Paint): string[] {
  const tables = analysers.flatMap((answer) => answer.tables ?? []).filter((table) => table.rows.length > 0);
  return tables.flatMap((table, i) => [
    ...(i > 0 ? [''] : []),
    ...wrap(table.title, width).map(paint.strong),
    ...blocks(table, width),
  ]);
}

function blocks(table: DataTable, width: number): string[] {
  const columns = table.columns.map(
    ({ name, unit }, i): TableColumn => ({
      name: UNSAID.includes(unit) ? name : `${name} (${unit})`,
      align: table.rows.some((row) => typeof row[i] === 'string') ? 'left' : 'right',
    }),
  );
  const rows = table.rows.map((row) => row.map((cell, i) => cellText(cell, table.columns[i].unit)));
  return columnGroups(columns, rows, width).flatMap((group) =>
    textTable(
      group.map((i) => columns[i]),
      rows.map((row) => group.map((i) => row[i])),
      width,
    ),
  );
}

function columnGroups(columns: readonly TableColumn[], rows: readonly string[][], width: number): number[][] {
  const groups: number[][] = [];
  let group = [0];
  for (let i = 1; i < columns.length; i++) {
    const wider = [...group, i];
    const pick = <T>(all: readonly T[]) => wider.map((k) => all[k]);
    if (group.length > 1 && leastWidth(pick(columns), rows.map(pick)) > width) {
      groups.push(group);
      group = [0, i];
    } else {
      group = wider;
    }
  }
  return [...groups, group];
}

/** The header names the unit, so a cell need not repeat it. */
function cellText(cell: string | number | null, unit: string): string {
  if (cell === null) return '–';
  if (typeof cell === 'number') return formatNumber(cell, unit);
  return unit !== '' && cell.endsWith(` ${unit}`) ? cell.slice(0, -unit.length - 1) : cell;
}
