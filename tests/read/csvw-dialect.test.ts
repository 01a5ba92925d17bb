import { describe, expect, test } from 'vitest';
import { labelsOf, namesOf, readText, valuesOf } from './read-text.ts';

/**
 * Terms of the dialect description in "Metadata Vocabulary for Tabular Data", section 5.9, and of the parsing section of
 * "Model for Tabular Data and Metadata on the Web" (both W3C Recommendations of 17 December 2015).
 */
describe('W3C dialect terms', () => {
  test('C-101 commentPrefix: "#" where such lines are comments, none otherwise', () => {
    const commented = readText('# cold start\na,b\n1,2\n# lift\n3,4\n');
    expect(commented.dialect.commentPrefix).toBe('#');
    expect(valuesOf(commented, 'a')).toEqual([1, 3]);
    expect(readText('a,b\n1,2\n').dialect.commentPrefix).toBeUndefined();
    expect(namesOf(readText('#,b\n1,2\n'))).toEqual(['#', 'b']);
    const given = readText('a,b\n//x\n1,2\n//y,"\n3,4\n', { dialect: { commentPrefix: '//' } });
    expect(valuesOf(given, 'a')).toEqual([1, 3]);
    expect(given.dialect.commentPrefix).toBe('//');
  });

  test.each([',', ';', '\t', '|'])('C-102 delimiter %j', (delimiter) => {
    const table = readText(['a,b,c', '1,2,3', '4,5,6', ''].join('\n').replaceAll(',', delimiter));
    expect(table.dialect.delimiter).toBe(delimiter);
    expect(valuesOf(table, 'c')).toEqual([3, 6]);
  });

  test('C-102 a given delimiter stands above the likelier one', () => {
    const table = readText('a;b,c\n1;2,3\n', { dialect: { delimiter: ';' } });
    expect(namesOf(table)).toEqual(['a', 'b,c']);
    expect(valuesOf(table, 'b,c')).toEqual([2.3]);
  });

  test('C-102 a given delimiter that is not there is refused and the likely one named', () => {
    expect(() => readText('a,b\n1,2\n', { dialect: { delimiter: ';' } })).toThrow(/semicolon, does not occur.*comma/);
    expect(() => readText('a,b\n1,2\n', { dialect: { delimiter: '::' } })).toThrow(/not a single character/);
  });

  test('C-103 doubleQuote is true: a quote is escaped by doubling', () => {
    expect(labelsOf(readText('t,x\n1,"a""b"\n2,c\n'), 'x')).toEqual(['a"b', 'c']);
  });

  test('C-104 encoding by its name in the Encoding Standard', () => {
    expect(() => readText('a,b\n1,2\n', { dialect: { encoding: 'utf-99' } })).toThrow(/"utf-99" is not known/);
    const latin = readText(Buffer.from('a,°C\n1,2\n', 'latin1'), { dialect: { encoding: 'iso-8859-1' } });
    expect(namesOf(latin)).toEqual(['a', '°C']);
    expect(latin.dialect.encoding).toBe('windows-1252');
    expect(latin.notes).toEqual([]);
  });

  test('C-105, C-106 headerRowCount 0, 1 and 2', () => {
    const text = 'a,b\nfoo,kPa\n1,2\n';
    expect(readText('0,7\n1,8\n', { dialect: { headerRowCount: 0 } })).toMatchObject({
      rowCount: 2,
      firstDataLine: 1,
      columns: [{ name: 'column 1' }, { name: 'column 2' }],
    });
    const two = readText(text, { dialect: { headerRowCount: 2 } });
    expect(two.columns.map((c) => [c.name, c.unitText])).toEqual([
      ['a', 'foo'],
      ['b', 'kPa'],
    ]);
    expect(readText('a,b\ns,kPa\n1,2\n').dialect.headerRowCount).toBe(2);
    const one = readText('a,b\ns,kPa\n1,2\n', { dialect: { headerRowCount: 1 } });
    expect(namesOf(one)).toEqual(['s', 'kPa']);
    expect(() => readText(text, { dialect: { headerRowCount: -1 } })).toThrow(/headerRowCount is -1/);
  });

  test('C-107 line terminators CR LF and LF may be mixed', () => {
    expect(valuesOf(readText('a,b\r\n1,2\n3,4\r\n'), 'b')).toEqual([2, 4]);
  });

  test('C-108 quoteChar given, or none', () => {
    expect(valuesOf(readText("a;b\n'1';'2;3'\n4;5\n", { dialect: { quoteChar: "'" } }), 'a')).toEqual([1, 4]);
    expect(labelsOf(readText('t,x\n1,"a\n2,b\n', { dialect: { quoteChar: '' } }), 'x')).toEqual(['"a', 'b']);
  });

  test('C-109 blank rows are skipped, also rows of delimiters only', () => {
    const table = readText('a,b\n1,2\n\n,\n  , \n3,4\n\n');
    expect(valuesOf(table, 'a')).toEqual([1, 3]);
  });

  test('C-111, C-113 space around cells is trimmed, also before a quote', () => {
    const table = readText('"t", "x"\n1 , "a b"\n 2, "c"\n');
    expect(valuesOf(table, 't')).toEqual([1, 2]);
    expect(labelsOf(table, 'x')).toEqual(['a b', 'c']);
  });

  test('C-112 skipRows: lines before the header, found or given', () => {
    const text = 'Logger one\nDate: 2024-05-01, 10:00\n\nt,rpm\n0,850\n1,860\n';
    expect(readText(text).dialect.skipRows).toBe(3);
    const given = readText('x,y\n1,2\nt,rpm\n0,850\n', { dialect: { skipRows: 2 } });
    expect(namesOf(given)).toEqual(['t', 'rpm']);
    expect(() => readText(text, { dialect: { skipRows: 40 } })).toThrow(/skipRows is 40/);
  });

  test('C-121 decimalChar found, or given', () => {
    expect(readText('a;b\n1,5;2\n').dialect.decimalChar).toBe(',');
    const given = readText('a;b\n1.5;2\n1,5;2\n', { dialect: { decimalChar: ',' } });
    expect(valuesOf(given, 'a')).toEqual([Number.NaN, 1.5]);
    expect(() => readText('a;b\n1;2\n', { dialect: { decimalChar: ':' as '.' } })).toThrow(/decimalChar is ":"/);
  });

  test('C-122 numbers with sign, decimal character and exponent; a constant percent sign becomes the unit', () => {
    const table = readText('a,b,c\n+1.5e3,50%,INF\n-.5,7.5 %,-INF\n2.,-3%,NaN\n');
    expect(valuesOf(table, 'a')).toEqual([1500, -0.5, 2]);
    expect(table.columns[1]).toMatchObject({ kind: 'number', unitText: '%' });
    expect(valuesOf(table, 'b')).toEqual([50, 7.5, -3]);
    expect(labelsOf(table, 'c')).toEqual(['INF', '-INF', undefined]);
  });

  test('C-123 digits in groups of three are one number, whatever parts them but the decimal character', () => {
    expect(labelsOf(readText('t;a\n1;1,,234\n2;x\n'), 'a')).toEqual(['1,,234', 'x']);
    const rpmOf = (text: string) => [...(readText(text).columns.find(({ name }) => name === 'rpm')?.values ?? [])];
    expect(rpmOf('t,rpm\n0.5,"1,234"\n0.6,"1,250.5"\n0.7,936\n')).toEqual([1234, 1250.5, 936]);
    for (const parting of ["'", ' ', '\u00a0', '\u202f']) {
      expect(rpmOf(`t,rpm\n0.5,936\n0.6,5${parting}900\n0.7,12${parting}345${parting}678\n`)).toEqual([
        936, 5900, 12345678,
      ]);
    }
    expect(rpmOf('t,rpm\n0.5,936\n0.6,"0,900"\n0.7,"1,23"\n').slice(1)).toEqual([Number.NaN, Number.NaN]);
  });

  test('C-124 bytes that a given encoding cannot decode become U+FFFD', () => {
    const table = readText(Buffer.from('a,x\xb0\n1,2\n', 'latin1'), { dialect: { encoding: 'utf-8' } });
    expect(namesOf(table)).toEqual(['a', 'x\ufffd']);
  });

  test('C-125 messages give the line of the file, not the row of the table', () => {
    expect(() => readText('note\n\nt,x\n# c\n0,"a\nb"\n1,"c"d\n')).toThrow(/line 7/);
    expect(readText('note\n\nt,x\n# c\n0,1\n').firstDataLine).toBe(5);
  });

  test('C-126 null values', () => {
    const table = readText('t,x\n0,-999\n1,5\n2,n.a.\n3,\n', { missing: ['-999', 'n.a.'] });
    expect(valuesOf(table, 'x')).toEqual([Number.NaN, 5, Number.NaN, Number.NaN]);
    expect(labelsOf(table, 'x')).toEqual([undefined, undefined, undefined, undefined]);
  });

  test('C-127 decimal comma behind semicolons', () => {
    const table = readText('t;p\n1,5;220\n');
    expect([valuesOf(table, 't'), valuesOf(table, 'p')]).toEqual([[1.5], [220]]);
  });
});
