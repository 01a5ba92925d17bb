import { describe, expect, it } from 'vitest';
import { pollingOf } from '../../src/channels/survey-polling.ts';
import { tableOf } from './normalise-csv.ts';

/** Columns of smooth courses; `at` says from which row a cell shows its value (-1: blank). */
function columnsOf(count: number, rows: number, at: (row: number, column: number) => number) {
  const names = Array.from({ length: count }, (_, c) => `c${c}`);
  const lines = Array.from({ length: rows }, (_, row) =>
    names.map((_, c) => {
      const from = at(row, c);
      return from < 0 ? '' : (50 + 30 * Math.sin(from / (7 + c)) + 10 * Math.sin(from / 2.3 + c)).toFixed(3);
    }),
  );
  return tableOf(
    [['t', ...names].join(','), ...lines.map((cells, row) => [row, ...cells].join(','))].join('\n'),
  ).columns.slice(1);
}

describe('pollingOf', () => {
  it('every row new', () => {
    expect(pollingOf(columnsOf(6, 600, (row) => row))).toMatchObject({ kind: 'all', roundRows: 1 });
  });

  it('one of ten columns in turn, the others repeated', () => {
    const columns = columnsOf(10, 2000, (row, c) => row - ((row - c + 10) % 10));
    const polling = pollingOf(columns);
    expect(polling).toMatchObject({ kind: 'in turn', moving: 10, perRow: 1, blank: false });
    expect(polling.roundRows).toBeCloseTo(10, 0);
  });

  it('two of six in turn, the others blank', () => {
    const columns = columnsOf(6, 600, (row, c) => (row % 3 === c % 3 ? row : -1));
    expect(pollingOf(columns)).toMatchObject({ kind: 'in turn', moving: 6, perRow: 2, blank: true });
  });

  it('all columns together every fourth row', () => {
    expect(pollingOf(columnsOf(6, 900, (row) => row - (row % 4)))).toMatchObject({ kind: 'held', blank: false });
  });

  it('too little to tell', () => {
    expect(pollingOf(columnsOf(6, 20, (row) => row)).kind).toBe('unknown');
    expect(pollingOf([]).kind).toBe('unknown');
  });
});
