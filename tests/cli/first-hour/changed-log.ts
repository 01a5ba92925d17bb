import { BUILD, GOOD_LOG, MAPPING } from '../workspace.ts';
import type { Files } from './mistake.ts';

const [HEADER, ...ROWS] = GOOD_LOG.trimEnd().split('\n');
export const NAMES: readonly string[] = HEADER.split(',');

type Cells = readonly string[];

const fileOf = (lines: readonly string[]) => `${lines.join('\n')}\n`;

/** The good log with each row changed. */
export const eachRow = (change: (cells: Cells, row: number) => Cells, names: Cells = NAMES): string =>
  fileOf([names.join(','), ...ROWS.map((row, i) => change(row.split(','), i).join(','))]);

/** The good log with one column's numbers changed. */
export function changed(column: string, change: (value: number, row: number) => number | string): string {
  const at = NAMES.indexOf(column);
  return eachRow((cells, row) => cells.map((cell, i) => (i === at ? String(change(Number(cell), row)) : cell)));
}

export const renamed = (from: string, to: string): string =>
  fileOf([NAMES.map((name) => (name === from ? to : name)).join(','), ...ROWS]);

export function without(...columns: string[]): string {
  const kept = NAMES.flatMap((name, i) => (columns.includes(name) ? [] : [i]));
  return eachRow(
    (cells) => kept.map((i) => cells[i]),
    kept.map((i) => NAMES[i]),
  );
}

/** Rows from one second to another, every so many. */
export const stretch = (fromS: number, toS: number, every = 1): string =>
  fileOf([
    HEADER,
    ...ROWS.filter(
      (row, i) => i % every === 0 && Number(row.split(',')[0]) >= fromS && Number(row.split(',')[0]) < toS,
    ),
  ]);

/** The mapping with some channels mapped otherwise; undefined leaves one out. */
export function mapping(channels: Record<string, unknown>, rest: object = {}): object {
  const all: Record<string, unknown> = { ...MAPPING.channels, ...channels };
  return {
    ...MAPPING,
    ...rest,
    channels: Object.fromEntries(Object.entries(all).filter(([, source]) => source !== undefined)),
  };
}

/** The folder with another log, mapping or build sheet. */
export const log = (content: string | Buffer, more: Files = {}): Files => ({ 'run.csv': content, ...more });
export const map = (content: string | Buffer | object): Files => ({ 'pullgate.map.json': content });
export const build = (part: object): Files => ({ 'pullgate.build.json': { ...BUILD, ...part } });

export const MAP_PRESSURE = 'Manifold pressure (kPa)';
