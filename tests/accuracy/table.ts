export type Row = readonly (string | number)[];

/** Plain columns: text left, numbers right. */
export function table(heads: readonly string[], rows: readonly Row[]): string {
  const all: Row[] = [heads, ...rows];
  const widths = heads.map((_, column) => Math.max(...all.map((row) => String(row[column]).length)));
  const line = (row: Row) =>
    row
      .map((cell, column) =>
        typeof cell === 'number'
          ? String(cell).padStart(widths[column] as number)
          : cell.padEnd(widths[column] as number),
      )
      .join('  ')
      .trimEnd();
  return [line(heads), widths.map((width) => '-'.repeat(width)).join('  '), ...rows.map(line), ''].join('\n');
}
