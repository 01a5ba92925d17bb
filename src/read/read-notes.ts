import { type ColumnBuilder, MOST_LABELS } from './column-builder.ts';
import type { OddRows, TableBuilder } from './table-builder.ts';

function rows(odd: OddRows): string {
  return odd.count === 1 ? `1 row (line ${odd.firstLine})` : `${odd.count} rows (the first at line ${odd.firstLine})`;
}

/** What happened on the way that the report should tell, each one sentence. */
export function readNotes(builder: TableBuilder, nulBytes: number, mayShow: (columnName: string) => boolean): string[] {
  const notes: string[] = [];
  const { short, long, repeatedHeader } = builder;
  if (builder.rules.decoder.met.windows1252) {
    notes.push('Some text is not valid UTF-8 and was read as Windows-1252.');
  }
  if (nulBytes > 0) notes.push(`${nulBytes} NUL bytes were left out; loggers leave them when they lose power.`);
  if (short.count > 0) {
    notes.push(`${rows(short)} with fewer cells than the header has names: the missing cells count as blank.`);
  }
  if (long.count > 0) {
    notes.push(`${rows(long)} with more cells than the header has names: the extra cells were left out.`);
  }
  if (builder.timeByRow && builder.fieldCount === 1 && builder.blankLinesBetween > 0) {
    notes.push(
      `Blank lines and comments between the rows: ${builder.blankLinesBetween}, left out. Rows after one that stood for a sample come out early.`,
    );
  }
  if (repeatedHeader.count > 0) {
    notes.push(`The header is repeated in ${rows(repeatedHeader)}, as after a restart of the logger; left out.`);
  }
  for (const column of builder.columns) if (column) notes.push(...columnNotes(column, mayShow));
  return notes;
}

/** A column is asked for its name only where there is something to say of it: few have any, and telling a personal name takes time. */
function columnNotes(column: ColumnBuilder, mayShow: (columnName: string) => boolean): string[] {
  const suffixMissing = column.suffix !== undefined && column.texts > 0;
  const tooManyTexts = column.labels.size > MOST_LABELS;
  if (!(suffixMissing || tooManyTexts) || !mayShow(column.name)) return [];
  const notes: string[] = [];
  if (suffixMissing) {
    notes.push(
      `Cells of "${column.name}" that do not end in "${column.suffix}" like the others: ${column.texts}, left out.`,
    );
  }
  if (tooManyTexts) {
    notes.push(`"${column.name}" holds more than ${MOST_LABELS} different texts; the rest are not told apart.`);
  }
  return notes;
}
