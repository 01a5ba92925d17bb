import type { DataTable } from '../../analysers/finding.ts';
import { formatNumber } from '../../kernel/format-number.ts';
import type { Report } from '../../report/report-schema.ts';
import { countWords } from '../terminal/words.ts';
import { list } from './answers.ts';
import { unitWords } from './figure-box.ts';
import { html, type Markup } from './markup.ts';
import { htmlTable } from './table.ts';

/** Units that a header need not name. */
const SENTENCE = 30;
const UNSAID = ['', 'ratio', 'number', 'count'];

/** The analysers' own tables. */
export function dataTables({ analysers }: Report): Markup {
  const tables = analysers.flatMap((answer) => answer.tables ?? []).filter((table) => table.rows.length > 0);
  return html`${tables.map(dataTable)}`;
}

function dataTable({ title, columns, rows }: DataTable): Markup {
  return htmlTable({
    caption: title,
    label: title,
    columns: columns.map(({ name, unit }, i) => ({
      name: UNSAID.includes(unit) ? name : `${name} (${unitWords(unit)})`,
      number: !rows.some((row) => typeof row[i] === 'string'),
      words: rows.some((row) => String(row[i] ?? '').length > SENTENCE),
    })),
    rows: rows.map((row) => row.map((cell, i) => cellText(cell, columns[i].unit))),
  });
}

function cellText(cell: string | number | null, unit: string): string {
  if (cell === null) return '–';
  if (typeof cell === 'number') return formatNumber(cell, unit);
  return unit !== '' && cell.endsWith(` ${unit}`) ? cell.slice(0, -unit.length - 1) : cell;
}

/** The channels as they were read. */
export function channelTable({ channels }: Report): Markup {
  if (channels.length === 0) return { markup: '' };
  const number = (value: number | null, unit: string) => (value === null ? '' : formatNumber(value, unit));
  return htmlTable({
    caption: 'Channels, and the columns they were read from',
    label: 'Channels',
    columns: ['Channel', 'Column', 'Unit', 'Hz', 'Cover (%)', 'Lowest', 'Highest'].map((name, i) => ({
      name,
      number: i > 2,
    })),
    rows: channels.map(({ id, column, unit, rate, coverage, min, max }) => [
      id,
      html`<bdi>${column}</bdi>`,
      unitWords(unit),
      number(rate, 'Hz'),
      Math.round(coverage * 100),
      number(min, unit),
      number(max, unit),
    ]),
  });
}

/** The inputs with their hashes, so that the report can be made again, and everything the answers lean on. */
export function basis({ tool, log, mapping, build, channels, notes }: Report): Markup {
  const channelNotes = channels.flatMap(({ id, notes: told }) => told.map((note) => `${id}: ${note}`));
  return html`<dl class="inputs">
<dt>Log</dt><dd><bdi>${log.file}</bdi>, ${countWords(channels.length, 'channel')}, ${countWords(log.rows, 'row')}, ${log.duration.toFixed(1)} s <code>SHA-256 ${log.sha256}</code></dd>
<dt>Mapping</dt><dd><bdi>${mapping.title}</bdi>${mapping.guessed && ' (guessed)'} <code>SHA-256 ${mapping.sha256}</code></dd>
<dt>Build sheet</dt><dd><bdi>${build.title}</bdi> <code>SHA-256 ${build.sha256}</code></dd>
<dt>Program</dt><dd>${tool.name} ${tool.version}</dd>
</dl>
${list([...notes, ...channelNotes].map((note) => html`<li>${note}</li>`))}`;
}

export function cautions({ cautions: texts }: Report): Markup {
  return list(texts.map((text) => html`<li>${text}</li>`));
}
