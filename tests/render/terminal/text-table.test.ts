import Table from 'cli-table3';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leastWidth, textTable } from '../../../src/render/terminal/text-table.ts';
import { wideText, widthOf } from './wide-text.ts';

const columns = [{ name: 'Engine speed' }, { name: 'Value', align: 'right' as const }];
const rows = [
  ['1,000', '1.5'],
  ['10,000', '12.5'],
];

describe('a table', () => {
  it('keeps headers whole where there is room', () => {
    expect(textTable(columns, rows, 40)).toEqual(['Engine speed  Value', '1,000           1.5', '10,000         12.5']);
  });

  it('breaks headers before cells', () => {
    expect(textTable(columns, rows, 13)).toEqual(['Engine  Value', 'speed', '1,000     1.5', '10,000   12.5']);
  });

  it('closes its gaps before it breaks cells', () => {
    expect(textTable(columns, rows, 12)).toEqual(['Engine Value', 'speed', '1,000    1.5', '10,000  12.5']);
  });

  it('breaks the widest column where even that is too wide', () => {
    const [heads, cells] = [[{ name: 'A' }, { name: 'B' }], [['x', 'one two three four five six']]];
    expect(leastWidth(heads, cells)).toBe(7);
    const lines = textTable(heads, cells, 17);
    expect(lines).toEqual(['A B', 'x one two three', '  four five six']);
  });

  it('breaks long texts and headers rather than stretch a row over a very wide window', () => {
    const heads = [{ name: 'What' }, { name: 'Because of this' }];
    const lines = textTable(heads, [['a', 'word '.repeat(60).trim()]], 200);
    expect(lines.length).toBeGreaterThan(4);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
    const names = Array.from({ length: 10 }, (_, i) => ({ name: `of many words ${i}`, align: 'right' as const }));
    const numbers = textTable(names, [names.map(() => '1.0')], 200);
    expect(Math.max(...numbers.map((line) => line.length))).toBeLessThanOrEqual(110);
  });

  it('is never wider than the window, whatever the cells hold', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(wideText(40), { minLength: 9, maxLength: 9 }), { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 60, max: 200 }),
        (cells, width) => {
          const heads = cells[0].map((_, i) => ({
            name: `Column ${i}`,
            align: i % 2 ? ('right' as const) : ('left' as const),
          }));
          const lines = textTable(heads, cells, width);
          expect(Math.max(...lines.map(widthOf))).toBeLessThanOrEqual(width);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('lays out as a table library does, wide letters too', () => {
    const cell = fc.string({
      unit: fc.constantFrom('a', 'b', '7', '-', '漢', '한', 'Ａ'),
      minLength: 1,
      maxLength: 12,
    });
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 6 }), (cells) => {
        const heads = [{ name: 'Left' }, { name: 'Right', align: 'right' as const }, { name: 'Last' }];
        expect(textTable(heads, cells, 80)).toEqual(byLibrary(heads, cells));
      }),
      { numRuns: 50 },
    );
  });
});

function byLibrary(heads: readonly { name: string; align?: 'right' }[], cells: string[][]): string[] {
  const none = Object.fromEntries(
    [
      'top',
      'bottom',
      'left',
      'right',
      'mid',
      ...['top', 'bottom', 'left', 'right', 'mid'].flatMap((side) => [`${side}-mid`, `${side}-left`, `${side}-right`]),
    ].map((name) => [name, '']),
  );
  const table = new Table({
    chars: { ...none, middle: '  ' },
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0, compact: true },
    head: heads.map((head) => head.name),
    colAligns: heads.map((head) => head.align ?? 'left'),
  });
  table.push(...cells);
  return table
    .toString()
    .split('\n')
    .map((line) => line.trimEnd());
}
