import type { DataTable } from '../../analysers/finding.ts';
import { formatNumber } from '../../kernel/format-number.ts';
import type { Report } from '../../report/report-schema.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { htmlTable } from './table.ts';

interface Cell {
  readonly bank: string;
  readonly speed: string;
  readonly load: string;
  readonly percent: number | null;
  readonly seconds: number | null;
  readonly count: number | null;
  readonly standing: string;
}

const STEPS = 3;

/** Total trim by engine speed and load, a table a bank: each cell says its trim, how long it was visited and whether it was judged. */
export function trimMaps({ analysers }: Report): Markup {
  const answer = analysers.find(({ id }) => id === 'fuel-trim');
  const table = answer?.tables?.find(({ id }) => id === 'fuel-trim.cells');
  const cells = table ? cellsOf(table) : [];
  if (!table || cells.length === 0) return NOTHING;
  const limit = answer?.findings.find((finding) => finding.id === 'fuel-trim.level')?.limit;
  const full = limit?.fail ?? limit?.warn ?? 15;
  const banks = [...new Set(cells.map(({ bank }) => bank))];
  const unit = table.columns.find(({ name }) => name === 'load')?.unit;
  return html`${banks.map((bank) => bankMap(table.title, bank, cells, full, unit ? `load, ${unit}` : 'load'))}`;
}

function cellsOf({ columns, rows }: DataTable): Cell[] {
  const at = (name: string) => columns.findIndex((column) => column.name === name);
  const [bank, speed, load, percent, seconds, count, standing] = [
    'bank',
    'engine speed',
    'load',
    'median',
    'dwell',
    'effective n',
    'standing',
  ].map(at);
  if (Math.min(bank, speed, load, percent) < 0) return [];
  const number = (cell: string | number | null | undefined) => (typeof cell === 'number' ? cell : null);
  return rows
    .filter((row) => row[standing] !== 'early only')
    .map((row) => ({
      bank: String(row[bank]),
      speed: String(row[speed]),
      load: String(row[load]),
      percent: number(row[percent]),
      seconds: number(row[seconds]),
      count: number(row[count]),
      standing: String(row[standing] ?? ''),
    }));
}

function bankMap(title: string, bank: string, all: readonly Cell[], full: number, loadName: string): Markup {
  const cells = all.filter((cell) => cell.bank === bank);
  const speeds = bands(cells.map(({ speed }) => speed));
  const loads = bands(cells.map(({ load }) => load)).reverse();
  return htmlTable({
    caption: html`${title}, bank ${bank}<br/><span class="fine">Trim in %: + adds fuel, - takes it away. Below it the seconds and the independent samples (n). The bar at the left and the tint of judged cells grow in thirds of ${formatNumber(full, '%')} %; a dotted bar and slanted number: not judged.</span>`,
    label: `Trim map of bank ${bank}`,
    columns: [{ name: html`${loadName} ↓<br/>engine speed, rpm →` }, ...speeds.map((name) => ({ name }))],
    rows: loads.map((load) => [
      load,
      ...speeds.map((speed) =>
        cellMark(
          cells.find((cell) => cell.speed === speed && cell.load === load),
          full,
        ),
      ),
    ]),
  });
}

/** Idle first, then by engine speed or load. */
function bands(names: readonly string[]): string[] {
  const start = (name: string) => Number.parseFloat(name.replaceAll(',', '')) || 0;
  return [...new Set(names)].sort((a, b) => start(a) - start(b));
}

/** The tint follows the trim in steps of a third of the limit; the sign and the number say the same in words. */
function cellMark(cell: Cell | undefined, full: number): Markup {
  if (!cell || cell.percent === null) return html`<span class="cell none">–</span>`;
  const step = Math.min(STEPS, Math.floor((Math.abs(cell.percent) / full) * STEPS));
  const tint = `${cell.percent < 0 ? 'minus' : 'plus'}${step}`;
  const judged = cell.standing === 'judged';
  const sign = cell.percent > 0 ? '+' : '';
  const behind = [
    cell.seconds === null ? [] : `${formatNumber(cell.seconds, 'kPa')} s`,
    cell.count === null ? [] : `n ${formatNumber(cell.count, 'rpm')}`,
    judged ? [] : cell.standing,
  ]
    .flat()
    .map((text, i, all) => html`<span>${text}${i < all.length - 1 && ','}</span> `);
  return html`<span class="cell ${tint}${judged ? '' : ' slight'}"><b>${sign}${formatNumber(cell.percent, '%')}</b><small>${behind}</small></span>`;
}
