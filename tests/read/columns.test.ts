import { describe, expect, test } from 'vitest';
import { column, labelsOf, namesOf, readText, valuesOf } from './read-text.ts';

const lines = (header: string, ...rows: string[]) => `${[header, ...rows].join('\n')}\n`;

describe('columns', () => {
  test('blank cells and common missing tokens are NaN without a label', () => {
    const tokens = ['', ' ', 'NaN', 'nan', 'N/A', 'n/a', 'NA', 'null', 'NULL', '-', '--', '---'];
    const table = readText(lines('t,x', '0,1', ...tokens.map((token, i) => `${i + 1},${token}`)));
    expect(valuesOf(table, 'x')).toEqual([1, ...tokens.map(() => Number.NaN)]);
    expect(column(table, 'x').codes).toBeUndefined();
  });

  test('a given missing token is compared as text, not as a number', () => {
    const table = readText(lines('t,x', '0,255', '1,255.0', '2,7'), { missing: ['255'] });
    expect(valuesOf(table, 'x')).toEqual([Number.NaN, 255, 7]);
  });

  test('text among numbers keeps its label', () => {
    const table = readText(lines('t,x', '0,1', '1,ERR', '2,2', '3,ERR', '4,0x10', '5,Infinity', '6,3', '7,4', '8,5'));
    expect(valuesOf(table, 'x')).toEqual([1, Number.NaN, 2, Number.NaN, Number.NaN, Number.NaN, 3, 4, 5]);
    expect(labelsOf(table, 'x').slice(0, 6)).toEqual([undefined, 'ERR', undefined, 'ERR', '0x10', 'Infinity']);
    expect(column(table, 'x').labels).toEqual(['ERR', '0x10', 'Infinity']);
  });

  test('a column of text has labels for every cell and no values', () => {
    const table = readText(lines('t,gear', '0,N', '1,1st', '2,2', '3,N'));
    expect(column(table, 'gear').kind).toBe('text');
    expect(valuesOf(table, 'gear')).toEqual([Number.NaN, Number.NaN, Number.NaN, Number.NaN]);
    expect(labelsOf(table, 'gear')).toEqual(['N', '1st', '2', 'N']);
  });

  test('a sensor that warms up long before it measures is a column of numbers', () => {
    const rows = Array.from({ length: 900 }, (_, i) => `${i},${i < 300 ? 'warming' : (0.8 + i / 10000).toFixed(4)}`);
    const table = readText(lines('t,lambda', ...rows));
    expect(column(table, 'lambda').kind).toBe('number');
    expect(column(table, 'lambda').labels).toEqual(['warming']);
    expect(labelsOf(table, 'lambda').filter((label) => label === 'warming')).toHaveLength(300);
    expect(valuesOf(table, 'lambda')[899]).toBe(0.8899);
  });

  test('a channel that starts late is what its first cells are', () => {
    const rows = Array.from({ length: 200 }, (_, i) => `${i},${i < 100 ? '' : i},${i < 100 ? '' : '10:00:00'}`);
    const table = readText(lines('t,late,clock', ...rows));
    expect(column(table, 'late').kind).toBe('number');
    expect(valuesOf(table, 'late')[150]).toBe(150);
    expect(column(table, 'clock').kind).toBe('clock');
    expect(valuesOf(table, 'clock')[150]).toBe(36000);
  });

  test('clock times and timestamps', () => {
    const table = readText(
      lines('clock,stamp', '10:00:00.5,2024-05-01T10:00:00Z', '10:00:01,bad', 'x,2024-05-01 10:00:01'),
    );
    expect(table.columns.map((c) => c.kind)).toEqual(['clock', 'timestamp']);
    expect(valuesOf(table, 'clock')).toEqual([36000.5, 36001, Number.NaN]);
    expect(valuesOf(table, 'stamp')).toEqual([1714557600, Number.NaN, 1714557601]);
    expect(labelsOf(table, 'stamp')).toEqual([undefined, 'bad', undefined]);
  });

  test('a unit behind every number becomes the unit of the column', () => {
    const table = readText(lines('t,boost', '0,12.3 psi', '1,-0.5 psi', '2,', '3,9psi'));
    expect(column(table, 'boost')).toMatchObject({ kind: 'number', unitText: 'psi' });
    expect(valuesOf(table, 'boost')).toEqual([12.3, -0.5, Number.NaN, 9]);
  });

  test('a cell in another unit is left out and told', () => {
    const rows = Array.from({ length: 60 }, (_, i) => `${i},${i === 50 ? '0.9 bar' : i === 51 ? '13' : '12 psi'}`);
    const table = readText(lines('t,boost', ...rows));
    expect(valuesOf(table, 'boost')[50]).toBeNaN();
    expect(valuesOf(table, 'boost')[51]).toBeNaN();
    expect(table.notes).toEqual(['Cells of "boost" that do not end in "psi" like the others: 2, left out.']);
  });

  test('mixed units from the start are text', () => {
    expect(column(readText(lines('t,p', '0,1 psi', '1,1 bar', '2,2 psi')), 'p').kind).toBe('text');
  });

  test('at most 1,000 different texts are told apart', () => {
    const rows = Array.from({ length: 3000 }, (_, i) => `${i},text ${i}`);
    const table = readText(lines('t,note', ...rows));
    const { labels } = column(table, 'note');
    expect(labels).toHaveLength(1001);
    expect(labels[1000]).toBe('(other text)');
    expect(labelsOf(table, 'note')[2999]).toBe('(other text)');
    expect(labelsOf(table, 'note')[999]).toBe('text 999');
    expect(table.notes).toEqual([expect.stringContaining('more than 1000 different texts')]);
  });

  test('columns that are not wanted are never kept', () => {
    const seen: string[] = [];
    const text = lines('Time,Plate,Latitude,RPM', '0,"AB 123",52.1,850', '1,"AB 123",52.2,860');
    const table = readText(text, {
      keep: (name) => {
        seen.push(name);
        return name !== 'Plate' && name !== 'Latitude';
      },
    });
    expect(seen).toEqual(['Time', 'Plate', 'Latitude', 'RPM']);
    expect(namesOf(table)).toEqual(['Time', 'RPM']);
    expect(JSON.stringify(table)).not.toMatch(/AB 123|52\.1/);
    expect(valuesOf(table, 'RPM')).toEqual([850, 860]);
  });

  test('decimal commas: behind semicolons, behind tabs, and quoted between commas', () => {
    for (const text of [
      't;x\n0,5;47,3\n0,6;1,25\n',
      't\tx\n0,5\t47,3\n0,6\t1,25\n',
      't,x\n"0,5","47,3"\n"0,6","1,25"\n',
    ]) {
      const table = readText(text);
      expect(table.dialect.decimalChar).toBe(',');
      expect(valuesOf(table, 't')).toEqual([0.5, 0.6]);
      expect(valuesOf(table, 'x')).toEqual([47.3, 1.25]);
    }
  });

  test('a header with two names over rows of three cells is refused, not shifted', () => {
    expect(() => readText('t,rpm\n0,05,850\n0,10,860\n')).toThrow(/more cells than the header/);
    const late = Array.from({ length: 200 }, (_, i) => (i < 60 ? `${i},850` : `${i},5,850`));
    expect(() => readText(lines('t,rpm', ...late))).toThrow(/line 62: most rows have more cells/);
  });

  test('aligned spaces', () => {
    const table = readText('  Time   RPM     MAP\n  0.00   850    31.5\n 10.05  1860   131.6\n');
    expect(table.dialect.delimiter).toBe(' ');
    expect(valuesOf(table, 'MAP')).toEqual([31.5, 131.6]);
  });
});
