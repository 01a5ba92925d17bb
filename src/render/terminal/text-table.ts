import { displayWidth, padEndTo, padStartTo } from './display-width.ts';
import { BOUND, READABLE, wrap } from './wrap.ts';

export interface TableColumn {
  readonly name: string;
  readonly align?: 'left' | 'right';
}

type Row = readonly string[];

const WIDE_GAP = '  ';
const NARROW_GAP = ' ';
/** Down to these a column gives way, one after the other, where words have to be cut. */
const NARROW_COLUMNS = [8, 4, 1];
/** Longer texts break, however wide the window. */
const LONGEST_TEXT = 70;

/**
 * A table without lines, no wider than `width`: first headers break into words, then the gaps close up, then cells break. In a wide window headers
 * break as well where that keeps a row easy to follow, and so do long texts.
 */
export function textTable(
  columns: readonly TableColumn[],
  rows: readonly Row[],
  width: number,
  paintHead = (line: string) => line,
): string[] {
  const cells = columns.map(({ align }, i) => {
    const whole = rows.reduce((most, row) => Math.max(most, displayWidth(row[i])), 0);
    return align === 'right' || whole <= LONGEST_TEXT ? whole : Math.max(LONGEST_TEXT, unbroken(columns[i], rows, i));
  });
  const whole = columns.map(({ name }, i) => Math.max(cells[i], longestWord(name)));
  const room = total(whole, WIDE_GAP) <= READABLE ? Math.min(width, READABLE) : width;
  const gap = total(whole, WIDE_GAP) <= room ? WIDE_GAP : NARROW_GAP;
  let widths = columns.map(({ name }, i) => Math.max(cells[i], displayWidth(name)));
  widths = shrink(widths, whole, gap, room);
  if (total(widths, gap) > room) widths = shrink(widths, unbrokenWidths(columns, rows), gap, room);
  for (const most of NARROW_COLUMNS) {
    const least = widths.map((wide) => Math.min(wide, most));
    widths = shrink(widths, least, gap, room);
  }
  const names = columns.map((column) => column.name);
  return [
    ...rowLines(names, widths, columns, gap).map(paintHead),
    ...rows.flatMap((row) => rowLines(row, widths, columns, gap)),
  ];
}

/** Width below which words must be cut. */
export function leastWidth(columns: readonly TableColumn[], rows: readonly Row[]): number {
  return closeTogether(unbrokenWidths(columns, rows));
}

/** Width of each column below which words must be cut. */
export function unbrokenWidths(columns: readonly TableColumn[], rows: readonly Row[]): number[] {
  return columns.map((column, i) => unbroken(column, rows, i));
}

/** Width of a row whose columns are that wide. */
export const closeTogether = (widths: readonly number[]): number => total(widths, NARROW_GAP);

function rowLines(row: Row, widths: readonly number[], columns: readonly TableColumn[], gap: string): string[] {
  const padded = (text: string, i: number) =>
    columns[i].align === 'right' ? padStartTo(text, widths[i]) : padEndTo(text, widths[i]);
  if (row.every((text, i) => displayWidth(text) <= widths[i])) {
    return [row.map(padded).join(gap).trimEnd().replaceAll(BOUND, ' ')];
  }
  const cells = row.map((text, i) => wrap(text, widths[i]));
  const height = Math.max(...cells.map((lines) => lines.length));
  return Array.from({ length: height }, (_, line) =>
    cells
      .map((lines, i) => padded(lines[line] ?? '', i))
      .join(gap)
      .trimEnd(),
  );
}

/** Takes from the column that has most to give, down to `least`, until the table fits. */
function shrink(from: readonly number[], least: readonly number[], gap: string, width: number): number[] {
  const widths = [...from];
  for (let over = total(widths, gap) - width; over > 0; over--) {
    let most = 0;
    for (let i = 1; i < widths.length; i++) if (widths[i] - least[i] > widths[most] - least[most]) most = i;
    if (widths[most] <= least[most]) break;
    widths[most]--;
  }
  return widths;
}

/** Numbers never break; texts break at blanks. */
function unbroken({ name, align }: TableColumn, rows: readonly Row[], i: number): number {
  const width = align === 'right' ? displayWidth : longestWord;
  return rows.reduce((most, row) => Math.max(most, width(row[i])), longestWord(name));
}

function longestWord(text: string): number {
  let longest = 0;
  for (const word of text.split(' ')) longest = Math.max(longest, displayWidth(word));
  return longest;
}

function total(widths: readonly number[], gap: string): number {
  return widths.reduce((sum, width) => sum + width, gap.length * (widths.length - 1));
}
