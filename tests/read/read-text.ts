import type { ReadOptions } from '../../src/read/read-options.ts';
import { readTable } from '../../src/read/read-table.ts';
import type { Column, Table } from '../../src/read/table.ts';
import type { BlockSizes } from '../../src/read/text-blocks.ts';

export function pieces(bytes: Uint8Array, size: number): Uint8Array[] {
  const chunks: Uint8Array[] = [];
  for (let i = 0; i < bytes.length; i += size) chunks.push(bytes.slice(i, i + size));
  return chunks;
}

/** Reads a text (as UTF-8) or bytes, in one chunk or in chunks of `chunkSize`. */
export function readText(
  content: string | Uint8Array,
  options: ReadOptions = {},
  chunkSize = Number.POSITIVE_INFINITY,
  sizes?: BlockSizes,
): Table {
  const bytes = typeof content === 'string' ? Buffer.from(content, 'utf8') : content;
  const chunks = Number.isFinite(chunkSize) ? pieces(bytes, chunkSize) : [bytes];
  return readTable({ chunks, name: 'log.csv' }, options, sizes);
}

export function column(table: Table, name: string): Column {
  const found = table.columns.find((candidate) => candidate.name === name);
  if (!found) throw new Error(`no column "${name}" among ${table.columns.map((c) => c.name).join(', ')}`);
  return found;
}

export function valuesOf(table: Table, name: string): number[] {
  return [...column(table, name).values];
}

/** Each row's label, or undefined where the cell has none. */
export function labelsOf(table: Table, name: string): (string | undefined)[] {
  const { codes, labels } = column(table, name);
  return Array.from({ length: table.rowCount }, (_, row) =>
    codes && codes[row] >= 0 ? labels[codes[row]] : undefined,
  );
}

export function namesOf(table: Table): string[] {
  return table.columns.map((c) => c.name);
}

/** A table without its digest and size, for comparing tables that different bytes should give alike. */
export function contentOf(table: Table) {
  const { columns, rowCount, firstDataLine, notes } = table;
  return {
    rowCount,
    firstDataLine,
    notes,
    columns: columns.map((c) => ({ ...c, values: [...c.values], codes: c.codes && [...c.codes] })),
  };
}
