import type { Report } from '../../report/report-schema.ts';
import { type CorrectionCell, correctionFigures, loadBand, speedBand } from '../correction-bands.ts';
import { list } from './answers.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { htmlTable } from './table.ts';

/** Suggested factors with what they rest on, and why the other cells are blank. */
export function correctionsPart({ corrections }: Report): Markup {
  if (!corrections) return NOTHING;
  const { axis, cells, caution, notes } = corrections;
  const suggested = cells.filter(({ factor }) => factor !== null);
  const blank = blanks(cells);
  if (suggested.length === 0 && blank.length === 0) return NOTHING;
  const remarks = list([...blank, ...notes].map((text) => html`<li>${text}</li>`));
  if (suggested.length === 0) return html`<p>No correction is suggested.</p>${remarks}`;
  const table = htmlTable({
    caption: 'Suggested factors; * held to one step, the error is larger',
    label: 'Suggested corrections',
    columns: [
      { name: 'Engine speed (rpm)' },
      { name: axis ? `${axis.name} (${axis.unit})` : 'load' },
      { name: 'From' },
      ...['Factor', 'Fuel lacking (%)', 'low', 'high', 'Samples', 'Time (s)'].map((name) => ({ name, number: true })),
    ],
    rows: suggested.map((cell) => [speedBand(cell), loadBand(cell), cell.source, ...correctionFigures(cell)]),
  });
  return html`<p class="caution">${caution}</p>
${table}${remarks}`;
}

function blanks(cells: readonly CorrectionCell[]): string[] {
  const whys = cells.flatMap(({ why, source }) => (why === undefined ? [] : `${source}: ${why}`));
  return [...new Set(whys)].map((why) => {
    const count = whys.filter((one) => one === why).length;
    return `${count} ${count === 1 ? 'cell' : 'cells'} blank. ${why}.`;
  });
}
