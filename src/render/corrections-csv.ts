import type { Report, Summary } from '../report/report-schema.ts';
import type { CorrectionCell, Corrections } from './correction-bands.ts';
import { cellText } from './csv.ts';
import type { Renderer } from './format.ts';

interface Row {
  readonly report: Report;
  readonly corrections: Corrections;
  readonly cell: CorrectionCell;
}

type Value = string | number | boolean | null | undefined;

/**
 * Columns in order. What has to be known before a factor is used stands in every row, and not in a comment above them: RFC 4180 has no
 * comments, so a parser would take one for the header, and sorting, filtering or copying rows in a spreadsheet would leave it behind.
 */
const COLUMNS: readonly (readonly [string, (row: Row) => Value])[] = [
  ['log', ({ report }) => report.log.file],
  ['gate', ({ report }) => report.gate],
  ['source', ({ cell }) => cell.source],
  ['idle', ({ cell }) => cell.idle],
  ['rpm_from', ({ cell }) => cell.rpm?.[0]],
  ['rpm_to', ({ cell }) => cell.rpm?.[1]],
  ['load_from', ({ cell }) => cell.load?.[0]],
  ['load_to', ({ cell }) => cell.load?.[1]],
  ['load_name', ({ cell, corrections }) => (cell.load ? corrections.axis?.name : undefined)],
  ['load_unit', ({ cell, corrections }) => (cell.load ? corrections.axis?.unit : undefined)],
  ['error_percent', ({ cell }) => cell.error],
  ['low_percent', ({ cell }) => cell.low],
  ['high_percent', ({ cell }) => cell.high],
  ['samples', ({ cell }) => cell.samples],
  ['seconds', ({ cell }) => cell.seconds],
  ['factor', ({ cell }) => cell.factor],
  ['limited', ({ cell }) => cell.limited],
  ['why_none', ({ cell }) => cell.why],
  ['caution', ({ corrections }) => corrections.caution],
  ['notes', ({ corrections }) => corrections.notes.join(' ')],
  ['log_sha256', ({ report }) => report.log.sha256],
  ['mapping_sha256', ({ report }) => report.mapping.sha256],
  ['build_sha256', ({ report }) => report.build.sha256],
  ['pullgate_version', ({ report }) => report.tool.version],
];

/** Suggested corrections, a row a cell, as RFC 4180 has it and safe to open in a spreadsheet; the header alone where there are none. */
export function correctionsCsvRenderer(): Renderer {
  return { each: () => '', end: (summary) => lines(summary).join('') };
}

function lines({ reports }: Summary): string[] {
  const rows = reports.flatMap((report): Row[] => {
    const { corrections } = report;
    return corrections ? corrections.cells.map((cell) => ({ report, corrections, cell })) : [];
  });
  const texts = rows.map((row) => COLUMNS.map(([, value]) => text(value(row))));
  return [COLUMNS.map(([name]) => name), ...texts].map((line) => `${line.join(',')}\r\n`);
}

/** A factor that is not suggested is empty, which no program reads as a number. */
function text(value: Value): string {
  return cellText(typeof value === 'boolean' ? String(value) : (value ?? undefined));
}
