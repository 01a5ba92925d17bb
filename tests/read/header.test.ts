import { describe, expect, test } from 'vitest';
import { cleanName } from '../../src/read/header-names.ts';
import { namesOf, readText, valuesOf } from './read-text.ts';

const ROWS = '0.00,850,31.5\n0.05,860,31.6\n0.10,870,31.7\n';

describe('the header', () => {
  const preambles: [string, string, number][] = [
    ['free text', 'A logger\nnot a table\n\n', 3],
    ['names and values with colons', 'Car: demo\nDate: 2024-05-01\nRate: 20 Hz\n', 3],
    ['names and values in cells', 'Logger,Bench\nVersion,1.2\nCylinders,4\n', 3],
    ['rows padded by a spreadsheet', 'Log of a run,,\nVersion,1.2,\n,,\n', 3],
    ['a sentence with commas', 'Warm start, pulled in third, then cruised.\n', 1],
    ['comments', '# one\n# two, three\n', 2],
    ['a long preamble', 'line of text\n'.repeat(300), 300],
    ['an open quote in free text', '"quoted by mistake\n', 1],
  ];
  test.each(preambles)('is found below %s', (_, preamble, lines) => {
    const table = readText(`${preamble}Time,RPM,MAP\n${ROWS}`);
    expect(namesOf(table)).toEqual(['Time', 'RPM', 'MAP']);
    expect(table.dialect.skipRows).toBe(lines);
    expect(table.firstDataLine).toBe(lines + 2);
    expect(valuesOf(table, 'MAP')).toEqual([31.5, 31.6, 31.7]);
  });

  test('is found below names and values where the log itself has two columns', () => {
    const table = readText('Logger,Bench\nVersion,1.2\nCylinders,4\nTime,RPM\n0,850\n1,860\n');
    expect(namesOf(table)).toEqual(['Time', 'RPM']);
  });

  const unitRows: [string, string, (string | undefined)[]][] = [
    ['plain units', 's,rpm,kPa', ['s', 'rpm', 'kPa']],
    ['units in brackets', '(s),(1/min),[kPa]', ['s', '1/min', 'kPa']],
    ['blanks', ',,kPa', [undefined, undefined, 'kPa']],
    ['dashes for no unit', 's,-,°C', ['s', undefined, '°C']],
  ];
  test.each(unitRows)('may be followed by %s', (_, row, units) => {
    const table = readText(`Time,RPM,MAP\n${row}\n${ROWS}`);
    expect(table.dialect.headerRowCount).toBe(2);
    expect(table.columns.map((c) => c.unitText)).toEqual(units);
    expect(table.firstDataLine).toBe(3);
    expect(table.rowCount).toBe(3);
  });

  test('with a blank line below, or between names and units', () => {
    const table = readText(`Time,RPM,MAP\n\ns,rpm,kPa\n\n${ROWS}`);
    expect(table.dialect.headerRowCount).toBe(2);
    expect(table.firstDataLine).toBe(5);
  });

  test('of short names that also are units is no units row', () => {
    const table = readText(`Time,RPM,Lambda\n${ROWS}`);
    expect(table.dialect.headerRowCount).toBe(1);
    expect(namesOf(table)).toEqual(['Time', 'RPM', 'Lambda']);
  });

  test('may start with the comment sign', () => {
    const table = readText(`# demo log\n# Time,RPM,MAP\n${ROWS}`);
    expect(namesOf(table)).toEqual(['Time', 'RPM', 'MAP']);
    expect(table.dialect).toMatchObject({ skipRows: 1, commentPrefix: '#' });
  });

  test('a comment between names and data is no header', () => {
    expect(namesOf(readText(`Time,RPM,MAP\n# ignition on, engine off, waiting\n${ROWS}`))).toEqual([
      'Time',
      'RPM',
      'MAP',
    ]);
  });

  test('is found where the first rows hold no values yet', () => {
    const table = readText('Date,RPM,MAP\n01/05/2024 10:00,---,---\n01/05/2024 10:01,850,31\n');
    expect(namesOf(table)).toEqual(['Date', 'RPM', 'MAP']);
    expect(table.rowCount).toBe(2);
  });

  test('is found when read again with the dialect that was found', () => {
    for (const text of [
      `# a\n# Time,RPM,MAP\n${ROWS}`,
      `Car: demo\n\nTime,RPM,MAP\ns,rpm,kPa\n${ROWS}`,
      'Time;RPM;MAP\n0,5;1;2\n',
      'Time RPM  MAP\n 0.5   1    2\n 0.6   1    2\n',
    ]) {
      const first = readText(text);
      const again = readText(text, { dialect: first.dialect });
      expect(again).toEqual(first);
    }
  });

  test('repeated names are numbered, blank ones named by place', () => {
    const table = readText('Time,RPM,RPM,,RPM (2),RPM\n0,1,2,3,4,5\n');
    expect(namesOf(table)).toEqual(['Time', 'RPM', 'RPM (3)', 'column 4', 'RPM (2)', 'RPM (4)']);
    expect(valuesOf(table, 'RPM (2)')).toEqual([4]);
    expect(table.notes).toEqual([expect.stringContaining('"RPM (3)"')]);
  });

  test('names that are keys of every object are names like others', () => {
    const table = readText('__proto__,constructor,toString\n1,2,3\n');
    expect(namesOf(table)).toEqual(['__proto__', 'constructor', 'toString']);
    expect(valuesOf(table, '__proto__')).toEqual([1]);
  });

  test('terminal escapes and hidden characters do not survive in names', () => {
    expect(cleanName('\u001b[31mRPM\u001b[0m')).toBe('RPM');
    expect(cleanName('RPM\u0007\u0000')).toBe('RPM');
    expect(cleanName('Boost\r\ntarget')).toBe('Boost target');
    expect(cleanName('\u202eRPM\u202c\u200b')).toBe('RPM');
    expect(cleanName('Temp (°C) λ₁')).toBe('Temp (°C) λ₁');
    expect(namesOf(readText('"Boost\ntarget",\u001b]0;x\u0007RPM\n1,2\n'))).toEqual(['Boost target', ']0;xRPM']);
  });

  test('too many columns are refused', () => {
    const names = Array.from({ length: 10_001 }, (_, i) => `c${i}`).join(',');
    expect(() => readText(`${names}\n${names.replaceAll('c', '')}\n`)).toThrow(/10001 columns, more than the 10000/);
  });
});
