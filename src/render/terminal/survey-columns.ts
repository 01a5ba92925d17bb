import { formatNumber } from '../../kernel/format-number.ts';
import type { Survey, SurveyColumn } from '../../report/survey-schema.ts';
import type { Paint } from './paint.ts';
import { shortened, sparkline } from './sparkline.ts';
import { type TableColumn, textTable } from './text-table.ts';
import { wrap } from './wrap.ts';

/** Course of a column in a window of this width or less. */
const NARROW = 100;
const SHORT_COURSE = 10;
const LONG_COURSE = 16;
/** Below this, names need the room of coverage and step. */
const VERY_NARROW = 72;

const number = (value: number | null) => (value === null ? '–' : formatNumber(value, ''));

const rate = ({ rate: hz, heldRows }: SurveyColumn) =>
  hz === null ? (heldRows >= 1.5 ? `1 in ${formatNumber(heldRows, 'V')}` : '–') : formatNumber(hz, 'Hz');

const unitText = ({ unit, unitFrom }: SurveyColumn) =>
  unit === null ? '' : unitFrom === 'values' || unitFrom === 'assumed' ? `${unit} ?` : unit;

/** Every column with what it is taken for and what it holds. */
export function surveyColumns({ columns }: Survey, width: number, ascii: boolean, paint: Paint): string[] {
  const course = width <= NARROW ? SHORT_COURSE : LONG_COURSE;
  const rows = columns.map((column) => [
    column.column,
    column.channel ?? (column.cells === 'text' ? 'text' : ''),
    unitText(column),
    rate(column),
    `${Math.round(100 * column.coverage)} %`,
    number(column.min),
    number(column.max),
    number(column.step),
    sparkline(shortened(column.trace, course), ascii).trimEnd(),
  ]);
  const kept = COLUMNS.map((_, i) => i).filter((i) => width >= VERY_NARROW || !COLUMNS[i].sparable);
  return textTable(
    kept.map((i) => COLUMNS[i]),
    rows.map((row) => kept.map((i) => row[i])),
    width,
    paint.faint,
  );
}

const COLUMNS: readonly (TableColumn & { readonly sparable?: boolean })[] = [
  { name: 'Column' },
  { name: 'Channel' },
  { name: 'Unit' },
  { name: 'Hz', align: 'right' },
  { name: 'Cover', align: 'right', sparable: true },
  { name: 'Low', align: 'right' },
  { name: 'High', align: 'right' },
  { name: 'Step', align: 'right', sparable: true },
  { name: 'Course' },
];

/** How sure each guess is, and why. */
export function surveyGuesses({ columns, mapping }: Survey, width: number): string[] {
  if (!mapping.guessed) return [];
  return columns.flatMap(({ channel, column, confidence, why }) =>
    channel === null || confidence === null
      ? []
      : wrap(
          `${channel} is "${column}": ${Math.round(100 * confidence)} % sure, by ${why ?? 'its name'}`,
          width,
          LISTED,
        ),
  );
}

/** What speaks against columns. */
export function surveyFaults({ columns }: Survey, width: number): string[] {
  return columns.flatMap(({ column, channel, faults }) =>
    faults.flatMap(({ kind, text }) =>
      wrap(`"${column}"${channel ? ` (${channel})` : ''}: ${kind}; ${text}.`, width, LISTED),
    ),
  );
}

const LISTED = { first: '  - ', rest: '    ' };
