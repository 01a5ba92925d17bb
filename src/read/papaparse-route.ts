import { UserError } from '../kernel/user-error.ts';
import { papaparseRows, type QuoteFault, type RowDialect, withoutSpaceBeforeQuotes } from './papaparse-rows.ts';
import { atLine } from './read-options.ts';
import { endRow, ensureRow, isRepeatedHeader, putCell, type TableBuilder } from './table-builder.ts';
import { trimCell } from './trim-cell.ts';

/** A row that quotes go on for longer than this has a quote too many or too few. */
const LONGEST_QUOTED_ROW = 1024 * 1024;

export interface PapaparseRoute {
  readonly dialect: RowDialect;
  readonly name: string;
  /** The start of a row whose quoted cell goes on in the next block. */
  pending: string;
}

function countNewlines(text: string, newline: string): number {
  let count = 0;
  for (let at = text.indexOf(newline); at >= 0; at = text.indexOf(newline, at + 1)) count++;
  return count;
}

function quoteError(route: PapaparseRoute, fault: QuoteFault, text: string, firstLine: number): UserError {
  const line = firstLine + countNewlines(text.slice(0, fault.index), route.dialect.newline);
  return fault.kind === 'unterminated'
    ? new UserError(
        'a quote is opened on this line and never closed.',
        atLine(route.name, line),
        'Close the quote, or remove it.',
      )
    : new UserError(
        'a quoted cell on this line has text behind its closing quote.',
        atLine(route.name, line),
        'A quote inside a quoted cell is written twice; one that quotes nothing is removed.',
      );
}

/** Comment lines become blank ones: their quotes must not count, and their line must. */
function blankComments(text: string, builder: TableBuilder, newline: string): string {
  const prefix = builder.commentPrefix;
  if (prefix === '' || !text.includes(prefix)) return text;
  return text
    .split(newline)
    .map((line) => {
      if (!line.startsWith(prefix)) return line;
      builder.commentSeen = true;
      return '';
    })
    .join(newline);
}

function putRow(builder: TableBuilder, cells: readonly string[], newline: string): void {
  if (!isRepeatedHeader(builder, cells)) {
    ensureRow(builder);
    let filled = false;
    let filledBeyond = false;
    for (let field = 0; field < cells.length; field++) {
      if (field < builder.fieldCount) {
        if (putCell(builder, field, cells[field])) filled = true;
      } else if (trimCell(cells[field]) !== '') filledBeyond = true;
    }
    endRow(builder, cells.length, filled || filledBeyond, filledBeyond);
  }
  builder.line++;
  for (const cell of cells) if (cell.includes(newline)) builder.line += countNewlines(cell, newline);
}

/** Reads lines that hold quotes, or go on from a quoted cell of the block before. `last` where nothing follows. */
export function readQuotedLines(builder: TableBuilder, route: PapaparseRoute, byteText: string, last: boolean): void {
  const { dialect } = route;
  const joined = route.pending + byteText;
  const text = blankComments(withoutSpaceBeforeQuotes(joined, dialect), builder, dialect.newline);
  const { rows, end, fault } = papaparseRows(text, dialect, !last);
  if (fault) throw quoteError(route, fault, text, builder.line);
  for (const cells of rows) putRow(builder, cells, dialect.newline);
  route.pending = text.slice(end);
  if (route.pending.length > LONGEST_QUOTED_ROW) {
    const open = papaparseRows(route.pending, dialect, false).fault;
    throw quoteError(route, open ?? { kind: 'unterminated', index: 0 }, route.pending, builder.line);
  }
}
