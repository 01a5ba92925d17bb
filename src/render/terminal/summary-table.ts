import type { FailOn } from '../../report/gate.ts';
import { readsOpen } from '../../report/gate-reading.ts';
import { decidingFindings } from '../../report/key-findings.ts';
import type { Summary } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { textTable } from './text-table.ts';
import { countWords, VERDICT_WORDS } from './words.ts';
import { wrap } from './wrap.ts';

/** One row a log, then how many gates are open. */
export function summaryTable(summary: Summary, failOn: FailOn, width: number, paint: Paint): string[] {
  const { reports, unusable } = summary;
  const open = reports.filter((report) => readsOpen(report, failOn)).length;
  const rows = reports.map((report) => [
    VERDICT_WORDS[report.gate],
    report.log.file,
    [...decidingFindings(report).map(({ answer }) => answer), ...(report.requiredOpen ?? [])]
      .map(({ id }) => id)
      .join(', '),
  ]);
  const columns = [{ name: 'Answer' }, { name: 'Log' }, { name: 'Because of' }];
  const table = rows.length > 0 ? textTable(columns, rows, width, paint.faint) : [];
  const left = unusable.flatMap(({ error }) => wrap(error, width, { first: 'NOT READ  ', rest: ' '.repeat(10) }));
  const count = `${countWords(reports.length + unusable.length, 'log')}: ${countWords(open, 'gate')} open, ${reports.length - open} closed`;
  const last = unusable.length > 0 ? `${count}, ${unusable.length} not read.` : `${count}.`;
  return [...table, ...left, '', paint.verdict(summary.gate, last)];
}
