import Papa from 'papaparse';

export interface RowDialect {
  readonly delimiter: string;
  /** Empty where quotes mean nothing. */
  readonly quoteChar: string;
  readonly newline: '\n' | '\r';
  /** Whether spaces between a delimiter and a quote belong to neither (the file is written with `, ` between cells). */
  readonly spaced: boolean;
}

export interface QuoteFault {
  readonly kind: 'unterminated' | 'text-after-quote';
  /** Offset in the text just behind the quote that opens the cell. */
  readonly index: number;
}

interface PapaparseRows {
  /** Cells as they stand, spaces included. */
  readonly rows: string[][];
  /** Where the rows end: what follows is the start of a row that goes on past `text`. */
  readonly end: number;
  readonly fault: QuoteFault | undefined;
}

interface ParserResult {
  readonly data: string[][];
  readonly errors: readonly { readonly code: string; readonly index: number }[];
  readonly meta: { readonly cursor: number };
}

/** A character no byte text holds: what papaparse is told to look for where nothing quotes. */
const NO_QUOTE = '\uffff';

/** Whether every delimiter outside quotes has a space behind it. */
export function isSpaced(line: string, delimiter: string, quoteChar: string): boolean {
  if (quoteChar === '') return false;
  const cells = line
    .split(quoteChar)
    .filter((_, i) => i % 2 === 0)
    .join('')
    .split(delimiter);
  return cells.length > 1 && cells.slice(1).every((cell) => cell.startsWith(' '));
}

/** papaparse knows a quote only right at the start of a cell: takes the spaces before it away. */
export function withoutSpaceBeforeQuotes(text: string, { delimiter, quoteChar, spaced }: RowDialect): string {
  if (!spaced || !text.includes(` ${quoteChar}`)) return text;
  const escaped = (char: string) => char.replace(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');
  return text.replace(new RegExp(`(^|[\\r\\n${escaped(delimiter)}]) +(?=${escaped(quoteChar)})`, 'g'), '$1');
}

/** Tokenises byte text with papaparse. With `more`, a last row without line end is left for the next call. */
export function papaparseRows(text: string, dialect: RowDialect, more: boolean): PapaparseRows {
  const parser = new Papa.Parser({
    delimiter: dialect.delimiter,
    newline: dialect.newline,
    quoteChar: dialect.quoteChar === '' ? NO_QUOTE : dialect.quoteChar,
  });
  const result = parser.parse(text, 0, more) as ParserResult;
  const error = result.errors[0];
  return {
    rows: result.data,
    end: result.meta.cursor,
    fault: error && {
      kind: error.code === 'MissingQuotes' ? 'unterminated' : 'text-after-quote',
      index: error.index,
    },
  };
}
