import { collapseSpaces } from './aligned-spaces.ts';
import { cellDecoder } from './cell-decoder.ts';
import { finishColumn } from './column-builder.ts';
import { planColumns, startColumn } from './column-plan.ts';
import { blankFile, longerThanHeader, noDataRows, noNumbers } from './layout-errors.ts';
import { missingTokens } from './missing-tokens.ts';
import { openText } from './open-text.ts';
import { readNotes } from './read-notes.ts';
import type { ReadOptions, ReadSource } from './read-options.ts';
import { endRows, readBlock, startRows } from './row-reader.ts';
import { sniffLayout } from './sniff-layout.ts';
import type { Table } from './table.ts';
import { addColumn, startTable } from './table-builder.ts';
import { type BlockSizes, textBlocks } from './text-blocks.ts';

/** Large enough for the header and sample rows of the widest log, small enough to stay in the processor's cache. */
const BLOCK_SIZES: BlockSizes = { head: 128 * 1024, block: 128 * 1024 };

/**
 * Reads a log into columns. Chunks are read once and not kept: memory is the columns plus a few blocks of text.
 * Throws a UserError for everything that is wrong with the file or with the dialect given for it.
 */
export function readTable(source: ReadSource, options: ReadOptions, sizes: BlockSizes = BLOCK_SIZES): Table {
  const { name } = source;
  const { timeByRow = false } = options;
  const override = options.dialect ?? {};
  const text = openText(source, override.encoding);
  const blocks = textBlocks(text.chunks, sizes, name);
  const first = blocks.next();
  if (first.done) throw blankFile(name);

  const newline = first.value.newline === 13 ? '\r' : '\n';
  const layout = sniffLayout(first.value.bytes, newline, override, name, timeByRow);
  const decoder = cellDecoder(text.encoding.cells);
  const { decimalChar } = layout;
  const rules = { decimalChar, missing: missingTokens(options.missing ?? [], decimalChar), decoder };
  const mayShow = options.mayShow ?? (() => true);
  const plan = planColumns(layout, rules, name, mayShow);
  const builder = startTable(
    layout,
    rules,
    plan.names,
    first.value.bytes.length,
    name,
    timeByRow,
    () => source.chunks.bytes,
  );
  for (const [field, columnName] of plan.names.entries()) {
    const repeats = plan.repeats[field];
    const isWanted = (name: string) => options.keep?.(name) ?? true;
    const kept = isWanted(columnName) || (repeats !== undefined && isWanted(repeats));
    addColumn(builder, kept ? startColumn(plan, field, layout, rules, builder.capacity) : undefined);
  }

  const reader = startRows(builder, layout, name);
  const prepared = (bytes: Buffer) =>
    layout.aligned ? Buffer.from(collapseSpaces(bytes.toString('latin1')), 'latin1') : bytes;
  readBlock(reader, prepared(first.value.bytes), layout.dataOffset, first.value.unterminated);
  for (const block of blocks) readBlock(reader, prepared(block.bytes), 0, block.unterminated);
  endRows(reader);

  const { row, long } = builder;
  if (row === 0) throw noDataRows(name, layout.names?.line);
  if (long.count > row / 2) throw longerThanHeader(name, long.firstLine, builder.fieldCount);
  const columns = builder.columns.filter((column) => column !== undefined).map((column) => finishColumn(column, row));
  const measured = columns.some((column) => column.values.some((value) => !Number.isNaN(value)));
  if (columns.length > 0 && !measured) throw noNumbers(name);
  const { met } = decoder;
  return {
    dialect: {
      delimiter: layout.delimiter,
      quoteChar: override.quoteChar ?? '"',
      encoding: met.windows1252 && !met.utf8 ? 'windows-1252' : text.encoding.label,
      decimalChar,
      commentPrefix: override.commentPrefix ?? (builder.commentSeen ? layout.commentPrefix : undefined),
      skipRows: layout.skipRows,
      headerRowCount: layout.headerRowCount,
    },
    columns,
    rowCount: row,
    firstDataLine: builder.firstDataLine,
    bytes: text.seen.bytes,
    sha256: text.hash.digest('hex'),
    notes: [...plan.notes, ...readNotes(builder, text.seen.nulBytes, mayShow), ...reader.notes],
  };
}
