import { describe, expect, test } from 'vitest';
import { papaparseRows } from '../../src/read/papaparse-rows.ts';
import { labelsOf, namesOf, readText, valuesOf } from './read-text.ts';

/**
 * Vectors for the rules of RFC 4180 (Y. Shafranovich, October 2005), section 2. Where the RFC says "not conforming",
 * what the reader does is said in the test's name.
 */
const rowsOf = (text: string) =>
  papaparseRows(text, { delimiter: ',', quoteChar: '"', newline: '\n', spaced: false }, true).rows.map((row) =>
    row.map((cell) => cell.replace(/\r$/, '')),
  );

describe('RFC 4180', () => {
  test('C-001 records end with CR LF (rule 1)', () => {
    const table = readText('a,b\r\n1,2\r\n');
    expect(namesOf(table)).toEqual(['a', 'b']);
    expect([valuesOf(table, 'a'), valuesOf(table, 'b')]).toEqual([[1], [2]]);
  });

  test('C-002 the last line end is optional (rule 2)', () => {
    const table = readText('a,b\r\n1,2');
    expect(table.rowCount).toBe(1);
    expect([valuesOf(table, 'a'), valuesOf(table, 'b')]).toEqual([[1], [2]]);
    expect(table.notes).toEqual([]);
  });

  test('C-003 a header with as many names as fields (rule 3)', () => {
    const table = readText('RPM,MAP\r\n6250,220\r\n');
    expect(namesOf(table)).toEqual(['RPM', 'MAP']);
    expect(valuesOf(table, 'RPM')).toEqual([6250]);
  });

  test('C-004 spaces belong to the field (rule 4) when tokenised, and are trimmed from names and cells', () => {
    expect(rowsOf('RPM, MAP\r\n')).toEqual([['RPM', ' MAP']]);
    const table = readText('RPM, MAP\r\n6250, 220\r\n');
    expect(namesOf(table)).toEqual(['RPM', 'MAP']);
    expect(valuesOf(table, 'MAP')).toEqual([220]);
  });

  test('C-005 fewer fields than the header (rule 4): blank, and the line is told', () => {
    const table = readText('a,b\r\n1,2\r\n1\r\n');
    expect(valuesOf(table, 'b')).toEqual([2, Number.NaN]);
    expect(table.notes).toEqual([expect.stringContaining('line 3')]);
  });

  test('C-006 a delimiter behind the last field makes a further, empty field (rule 4): left out and told', () => {
    expect(rowsOf('1,2,\r\n')).toEqual([['1', '2', '']]);
    const table = readText('a,b\r\n1,2,\r\n3,4,\r\n');
    expect(namesOf(table)).toEqual(['a', 'b']);
    expect(table.notes).toEqual([expect.stringContaining('ends with a delimiter')]);
  });

  test('C-007 quotes are optional per field (rule 5)', () => {
    expect(rowsOf('"aaa",bbb\r\n')).toEqual([['aaa', 'bbb']]);
  });

  test('C-008 a quote inside an unquoted field (rule 5): taken literally', () => {
    const table = readText('t,x\r\n1,a"b\r\n2,c\r\n');
    expect(labelsOf(table, 'x')).toEqual(['a"b', 'c']);
  });

  test('C-009 delimiters and line ends inside quotes (rule 6)', () => {
    expect(rowsOf('"Boost, target","x\r\ny"\r\n')).toEqual([['Boost, target', 'x\r\ny']]);
    const table = readText('t,"Boost, target"\r\n1,"x\r\ny"\r\n2,z\r\n');
    expect(namesOf(table)).toEqual(['t', 'Boost, target']);
    expect(labelsOf(table, 'Boost, target')).toEqual(['x\r\ny', 'z']);
  });

  test('C-010 a doubled quote is one quote (rule 7)', () => {
    expect(rowsOf('"3"" pipe",1\r\n')).toEqual([['3" pipe', '1']]);
    expect(namesOf(readText('"3"" pipe",t\r\n5,1\r\n'))).toEqual(['3" pipe', 't']);
  });

  test('C-011 empty quoted and empty unquoted fields are the same', () => {
    expect(rowsOf('"",,1\r\n')).toEqual([['', '', '1']]);
    const table = readText('a,b,c\r\n"",,1\r\n');
    expect([valuesOf(table, 'a'), valuesOf(table, 'b'), valuesOf(table, 'c')]).toEqual([
      [Number.NaN],
      [Number.NaN],
      [1],
    ]);
  });

  test('C-012 a quote that is not closed at the end of the file: refused with the line where it opened', () => {
    expect(() => readText('a,b\r\n1,2\r\n3,"4\r\n5,6\r\n')).toThrow(/line 3: a quote is opened/);
  });

  test('C-013 text behind a closing quote: refused', () => {
    expect(() => readText('t,x\r\n1,b\r\n2,"a"b\r\n')).toThrow(/line 3: a quoted cell on this line has text behind/);
  });

  test('C-014 bare LF and bare CR line ends are accepted', () => {
    for (const end of ['\n', '\r', '\r\r\n']) {
      const table = readText(['a,b', '1,2', '3,4', ''].join(end));
      expect(valuesOf(table, 'b'), JSON.stringify(end)).toEqual([2, 4]);
    }
  });

  test('C-015 the media type text/csv covers any charset: the reader tells it from the bytes', () => {
    expect(readText('a,b\n1,2\n').dialect.encoding).toBe('utf-8');
  });

  test('C-016 a byte order mark is no part of the first name (Encoding Standard, decode)', () => {
    const table = readText('\ufeffRPM,MAP\n1,2\n');
    expect(namesOf(table)).toEqual(['RPM', 'MAP']);
    expect(namesOf(readText('\ufeff"RPM","MAP"\n1,2\n'))).toEqual(['RPM', 'MAP']);
  });
});
