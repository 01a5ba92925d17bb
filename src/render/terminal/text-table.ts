import { wrap } from './wrap.ts';

export interface TableColumn {
  readonly name: string;
  readonly align?: 'left' | 'right';
}

type Row = readonly string[];

const WIDE_GAP = '  ';
const NARROW_GAP = ' ';
const NARROWEST_COLUMN = 8;

/** A table without lines, no wider than `width`: first headers break into words, then the gaps close up, then cells break. */
export function textTable(columns: readonly TableColumn[], rows: readonly Row[], width: number): string[] {
  const whole = columns.map((column, i) => longest([...column.name.split(' '), ...rows.map((row) => row[i])]));
  const gap = total(whole, WIDE_GAP) <= width ? WIDE_GAP : NARROW_GAP;
  const full = columns.map(({ name }, i) => longest([name, ...rows.map((row) => row[i])]));
  const floors = [whole, unbroken(columns, rows), full.map((wide) => Math.min(wide, NARROWEST_COLUMN))];
  const widths = floors.reduce((wider, least) => shrink(wider, least, gap, width), full);
  const names = columns.map((column) => column.name);
  return [names, ...rows].flatMap((row) => rowLines(row, widths, columns, gap));
}

/** Width below which words must be cut. */
export function leastWidth(columns: readonly TableColumn[], rows: readonly Row[]): number {
  return total(unbroken(columns, rows), NARROW_GAP);
}

function rowLines(row: Row, widths: readonly number[], columns: readonly TableColumn[], gap: string): string[] {
  const cells = row.map((text, i) => (text.length <= widths[i] ? [text] : wrap(text, widths[i])));
  const height = Math.max(...cells.map((lines) => lines.length));
  return Array.from({ length: height }, (_, line) =>
    cells
      .map((lines, i) => {
        const text = lines[line] ?? '';
        return columns[i].align === 'right' ? text.padStart(widths[i]) : text.padEnd(widths[i]);
      })
      .join(gap)
      .trimEnd(),
  );
}

/** Takes from the column that has most to give, down to `least`, until the table fits. */
function shrink(from: readonly number[], least: readonly number[], gap: string, width: number): number[] {
  const widths = [...from];
  while (total(widths, gap) > width) {
    const slack = widths.map((wide, i) => wide - least[i]);
    const most = Math.max(...slack);
    if (most <= 0) break;
    widths[slack.indexOf(most)] -= 1;
  }
  return widths;
}

/** Numbers never break; texts break at blanks. */
function unbroken(columns: readonly TableColumn[], rows: readonly Row[]): number[] {
  return columns.map(({ name, align }, i) => {
    const cells = rows.flatMap((row) => (align === 'right' ? row[i] : row[i].split(' ')));
    return longest([...name.split(' '), ...cells]);
  });
}

function longest(texts: readonly string[]): number {
  return texts.reduce((most, text) => Math.max(most, text.length), 0);
}

function total(widths: readonly number[], gap: string): number {
  return widths.reduce((sum, width) => sum + width, gap.length * (widths.length - 1));
}
