import type { FailOn } from '../../report/gate.ts';
import { readsOpen } from '../../report/gate-reading.ts';
import { decidingFindings } from '../../report/key-findings.ts';
import type { Summary } from '../../report/report-schema.ts';
import { countWords } from '../terminal/words.ts';
import { html, type Markup } from './markup.ts';
import { htmlTable } from './table.ts';
import { verdictMark, verdictShape } from './verdict-mark.ts';

/** All logs of a run: how many gates are open, then a row a log with the way to its report. */
export function summaryPage(summary: Summary, failOn: FailOn, anchors: readonly string[]): Markup {
  const { reports, unusable } = summary;
  const open = reports.filter((report) => readsOpen(report, failOn)).length;
  const count = `${countWords(reports.length + unusable.length, 'log')}: ${countWords(open, 'gate')} open, ${reports.length - open} closed${unusable.length > 0 ? `, ${unusable.length} not read` : ''}`;
  const rows = [
    ...reports.map((report, i) => [
      anchors[i]
        ? html`<a href="#${anchors[i]}"><bdi>${report.log.file}</bdi></a>`
        : html`<bdi>${report.log.file}</bdi>`,
      verdictMark(report.gate),
      [...decidingFindings(report).map(({ answer }) => answer), ...(report.requiredOpen ?? [])]
        .map(({ title }) => title)
        .join(', '),
    ]),
    ...unusable.map(({ file, error }) => [html`<bdi>${file}</bdi>`, 'NOT READ', error]),
  ];
  return html`<div class="headline ${summary.gate}">${verdictShape(summary.gate)}<div><h1>${count}</h1></div></div>
${htmlTable({ caption: 'Every log of this run', label: 'Logs', columns: [{ name: 'Log' }, { name: 'Answer' }, { name: 'Because of', words: true }], rows })}`;
}
