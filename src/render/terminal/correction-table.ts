import type { Report } from '../../report/report-schema.ts';
import {
  type CorrectionCell,
  type Corrections,
  correctionFigures,
  factorAt,
  loadBand,
  speedBand,
} from '../correction-bands.ts';
import type { Paint } from './paint.ts';
import { leastWidth, type TableColumn, textTable } from './text-table.ts';
import { countWords } from './words.ts';
import { wrap } from './wrap.ts';

/** As the report says it; a log that holds nothing else has no table. */
const TOO_LITTLE = 'too little data';

/** Suggested corrections: the grid where it fits, each suggested cell with its interval, and why the others are blank. */
export function correctionTable({ corrections }: Report, width: number, paint: Paint): string[] {
  if (!corrections || corrections.cells.every(({ why }) => why === TOO_LITTLE)) return [];
  const { cells, caution, notes } = corrections;
  const suggested = cells.filter(({ factor }) => factor !== null);
  const bullet = (text: string) => wrap(text, width, { first: '  - ', rest: '    ' });
  if (suggested.length === 0) return ['No correction is suggested.', ...blanks(cells).flatMap(bullet)];
  return [
    ...wrap(caution, width).map(paint.strong),
    ...grid(corrections, suggested, width, paint),
    ...list(corrections, suggested, width, paint),
    ...[...blanks(cells), ...notes].flatMap(bullet),
  ];
}

function loadHead({ axis }: Corrections): string {
  return axis ? `${axis.name} (${axis.unit})` : 'load';
}

/** Factors by engine speed down and load across. Left out where lines would break, and where one row or column is all there is. */
function grid(corrections: Corrections, suggested: readonly CorrectionCell[], width: number, paint: Paint): string[] {
  const speeds = inOrder(suggested, ({ rpm }) => rpm?.[0], speedBand);
  const loads = inOrder(suggested, ({ load }) => load?.[0], loadBand);
  const columns: TableColumn[] = [
    { name: 'Engine speed (rpm)' },
    ...loads.map((name) => ({ name, align: 'right' as const })),
  ];
  const rows = speeds.map((speed) => [
    speed,
    ...loads.map((load) => factorAt(suggested, speed, load)?.toFixed(3) ?? ''),
  ]);
  if (speeds.length < 2 || loads.length < 2 || leastWidth(columns, rows) > width) return [];
  const title = wrap(`Factor by engine speed and ${loadHead(corrections)}`, width);
  return ['', ...title, ...textTable(columns, rows, width, paint.faint)];
}

function inOrder(
  cells: readonly CorrectionCell[],
  from: (cell: CorrectionCell) => number | undefined,
  name: (cell: CorrectionCell) => string,
): string[] {
  const sorted = cells.toSorted((a, b) => (from(a) ?? -1) - (from(b) ?? -1));
  return [...new Set(sorted.map(name))];
}

function list(corrections: Corrections, suggested: readonly CorrectionCell[], width: number, paint: Paint): string[] {
  const right = 'right' as const;
  const columns: TableColumn[] = [
    { name: 'From' },
    { name: 'Engine speed (rpm)' },
    { name: loadHead(corrections) },
    { name: 'Factor', align: right },
    { name: 'Fuel lacking (%)', align: right },
    { name: 'low', align: right },
    { name: 'high', align: right },
    { name: 'Samples', align: right },
    { name: 'Time (s)', align: right },
  ];
  const rows = suggested.map((cell) => [cell.source, speedBand(cell), loadBand(cell), ...correctionFigures(cell)]);
  const star = suggested.some(({ limited }) => limited) ? ['* held to one step; the error is larger.'] : [];
  return ['', ...textTable(columns, rows, width, paint.faint), ...star];
}

/** Why cells are blank, with how many each. */
function blanks(cells: readonly CorrectionCell[]): string[] {
  const counts = new Map<string, number>();
  for (const { why, source } of cells) {
    if (why !== undefined) counts.set(`${source}: ${why}`, (counts.get(`${source}: ${why}`) ?? 0) + 1);
  }
  return [...counts].map(([why, count]) => `${countWords(count, 'cell')} blank, ${why}.`);
}
