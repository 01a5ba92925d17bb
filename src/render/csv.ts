import type { Finding, Verdict } from '../analysers/finding.ts';
import type { AnalyserAnswer, Report, Summary } from '../report/report-schema.ts';
import type { Renderer } from './format.ts';
import { placeList } from './place-list.ts';
import { printable } from './terminal/printable.ts';

type Cell = string | number | undefined;

interface Row {
  readonly log: string;
  readonly report?: Report;
  readonly answer?: AnalyserAnswer;
  readonly finding?: Finding;
  readonly verdict: Verdict | 'unusable';
  readonly title: string;
}

/** Columns in order. A finding in several places gives the first in numbers and all of them in words. */
const COLUMNS: readonly (readonly [string, (row: Row) => Cell])[] = [
  ['log', (row) => row.log],
  ['gate', (row) => row.report?.gate],
  ['analyser', (row) => row.answer?.id],
  ['analyser_verdict', (row) => row.answer?.verdict],
  ['finding', (row) => row.finding?.id],
  ['verdict', (row) => row.verdict],
  ['title', (row) => row.title],
  ['measured', ({ finding }) => finding?.measured?.value],
  ['low', ({ finding }) => finding?.measured?.low],
  ['high', ({ finding }) => finding?.measured?.high],
  ['unit', ({ finding }) => finding?.measured?.unit ?? finding?.limit?.unit],
  ['warn_at', ({ finding }) => finding?.limit?.warn],
  ['fail_at', ({ finding }) => finding?.limit?.fail],
  ['limit_source', ({ finding }) => finding?.limit?.source],
  ['pull', ({ finding }) => finding?.where[0]?.pull],
  ['start_s', ({ finding }) => finding?.where[0]?.start],
  ['end_s', ({ finding }) => finding?.where[0]?.end],
  ['from_rpm', ({ finding }) => finding?.where[0]?.rpm?.[0]],
  ['to_rpm', ({ finding }) => finding?.where[0]?.rpm?.[1]],
  ['where', ({ finding }) => finding && placeList(finding.where)],
  ['reasoning', ({ finding }) => finding?.reasoning.join(' ')],
  ['detectable', ({ finding }) => finding?.detectable],
  ['next', ({ finding }) => finding?.next.join(' ')],
  ['log_sha256', ({ report }) => report?.log.sha256],
  ['mapping_sha256', ({ report }) => report?.mapping.sha256],
  ['build_sha256', ({ report }) => report?.build.sha256],
  ['pullgate_version', ({ report }) => report?.tool.version],
];

/** One row a finding, as RFC 4180 has it, safe to open in a spreadsheet. */
export function csvRenderer(): Renderer {
  return { each: () => '', end: (summary) => lines(summary).join('') };
}

function lines({ reports, unusable }: Summary): string[] {
  const rows: Row[] = [
    ...reports.flatMap(reportRows),
    ...unusable.map(({ file, error }) => ({ log: file, verdict: 'unusable' as const, title: error })),
  ];
  const cells = rows.map((row) => COLUMNS.map(([, value]) => cellText(value(row))));
  return [COLUMNS.map(([name]) => name), ...cells].map((line) => `${line.join(',')}\r\n`);
}

function reportRows(report: Report): Row[] {
  return report.analysers.flatMap((answer): Row[] => {
    const common = { log: report.log.file, report, answer };
    return answer.findings.length === 0
      ? [{ ...common, verdict: answer.verdict, title: answer.summary }]
      : answer.findings.map((finding) => ({ ...common, finding, verdict: finding.verdict, title: finding.title }));
  });
}

/** Signs with which spreadsheets begin a formula, wide forms too, after anything that they may trim. */
const FORMULA = /^[\s'"]*[=+\-@\uff1d\uff0b\uff0d\uff20]/u;
/** The same after a semicolon, which parts cells where the comma is the decimal sign. */
const FORMULA_AFTER_SEMICOLON = /;(?=[\s'"]*[=+\-@\uff1d\uff0b\uff0d\uff20])/gu;

/** Numbers as they are. A text that a spreadsheet could run gets an apostrophe before it and stays text. */
export function cellText(value: Cell): string {
  if (value === undefined) return '';
  if (typeof value === 'number') return String(value);
  const begins = /^[\t\r\n]/.test(value) || FORMULA.test(value);
  const safe = (begins ? `'${printable(value)}` : printable(value)).replace(FORMULA_AFTER_SEMICOLON, ";'");
  return /[",;\r\n]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
