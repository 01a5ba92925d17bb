import { type ByteDialect, readPlainLines } from './byte-route.ts';
import { type PapaparseRoute, readQuotedLines } from './papaparse-route.ts';
import { countDelimiters } from './sniff-delimiter.ts';
import type { Layout } from './sniff-layout.ts';
import type { TableBuilder } from './table-builder.ts';
import { trimCell } from './trim-cell.ts';

/** Reads blocks of whole lines: from their bytes where no quote is in the block, else by papaparse. */
interface RowReader {
  readonly builder: TableBuilder;
  readonly bytes: ByteDialect;
  readonly papaparse: PapaparseRoute;
  /** -1 where nothing quotes. */
  readonly quoteByte: number;
  /** Cells that nearly every row has. */
  readonly usualWidth: number;
  readonly notes: string[];
}

function usualWidth(layout: Layout, fieldCount: number): number {
  const widths = layout.sample.map((record) => record.cells.length).sort((a, b) => a - b);
  return Math.min(fieldCount, widths[widths.length >> 1] ?? fieldCount);
}

export function startRows(builder: TableBuilder, layout: Layout, name: string): RowReader {
  const { delimiter, quoteChar, newline } = layout.rows;
  const decimalApart = layout.decimalChar !== delimiter;
  return {
    builder,
    bytes: {
      delimiter: delimiter.charCodeAt(0),
      newline: newline.charCodeAt(0),
      decimal: decimalApart ? layout.decimalChar.charCodeAt(0) : 0,
    },
    papaparse: { dialect: layout.rows, name, pending: '' },
    quoteByte: quoteChar === '' ? -1 : quoteChar.charCodeAt(0),
    usualWidth: usualWidth(layout, builder.fieldCount),
    notes: [],
  };
}

function readLines(reader: RowReader, lines: Buffer): void {
  if (lines.length === 0) return;
  const quoted = reader.quoteByte >= 0 && lines.includes(reader.quoteByte);
  if (quoted || reader.papaparse.pending !== '') {
    readQuotedLines(reader.builder, reader.papaparse, lines.toString('latin1'), false);
  } else readPlainLines(reader.builder, lines, reader.bytes);
}

/** Whether a last line without line end stops before the usual number of cells, or inside a quoted cell. */
function isCutShort(reader: RowReader, line: string): number | undefined {
  const { delimiter, quoteChar } = reader.papaparse.dialect;
  const { commentPrefix } = reader.builder;
  if (trimCell(line) === '' || (commentPrefix !== '' && line.startsWith(commentPrefix))) return undefined;
  const cells = countDelimiters(line, delimiter, quoteChar) + 1;
  const openQuote = quoteChar !== '' && line.split(quoteChar).length % 2 === 0;
  return cells < reader.usualWidth || openQuote ? cells : undefined;
}

/** Reads a block from byte `from` on; `unterminated` where its last line has no line end in the file. */
export function readBlock(reader: RowReader, block: Buffer, from: number, unterminated: boolean): void {
  readBlockLines(reader, block, from, unterminated);
  reader.builder.bytesDone += block.length;
  reader.builder.rowsDone = reader.builder.row;
}

function readBlockLines(reader: RowReader, block: Buffer, from: number, unterminated: boolean): void {
  if (!unterminated) {
    readLines(reader, block.subarray(from));
    return;
  }
  const tailStart = Math.max(from, block.lastIndexOf(reader.bytes.newline, block.length - 2) + 1);
  readLines(reader, block.subarray(from, tailStart));
  const tail = block.subarray(tailStart);
  const cells = reader.papaparse.pending === '' ? isCutShort(reader, tail.toString('latin1')) : undefined;
  if (cells === undefined) {
    readLines(reader, tail);
    return;
  }
  reader.notes.push(
    `The last line (${reader.builder.line}) is cut off after ${cells} of ${reader.usualWidth} cells, as when a logger loses power; left out.`,
  );
}

/** After the last block. Throws where a quoted cell never closed. */
export function endRows(reader: RowReader): void {
  if (reader.papaparse.pending !== '') readQuotedLines(reader.builder, reader.papaparse, '', true);
}
