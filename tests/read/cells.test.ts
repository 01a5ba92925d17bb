import { describe, expect, test } from 'vitest';
import { parseClock } from '../../src/read/cell-clock.ts';
import { parseNumber } from '../../src/read/cell-number.ts';
import { unitSuffix } from '../../src/read/cell-suffix.ts';
import { parseTimestamp } from '../../src/read/cell-timestamp.ts';

describe('numbers', () => {
  test.each(['0', '-0', '+7', '12.50', '.5', '5.', '-.25', '1e3', '1.5E-7', '00012', '9007199254740993', '0.1'])(
    '%s is what Number makes of it',
    (text) => {
      expect(parseNumber(text, '.')).toBe(Number(text));
      expect(parseNumber(text.replace('.', ','), ',')).toBe(Number(text));
    },
  );

  test.each([
    '',
    ' ',
    '.',
    '-',
    '+',
    '1.2.3',
    '1,2',
    '1_000',
    '0x10',
    '0b1',
    'Infinity',
    'NaN',
    '1e',
    '1e+',
    '--1',
    '1 2',
    '1e999',
  ])('%j is no number', (text) => {
    expect(parseNumber(text, '.')).toBeNaN();
  });

  test('under a decimal comma a point is no decimal', () => {
    expect(parseNumber('1.5', ',')).toBeNaN();
    expect(parseNumber('1.234,5', ',')).toBeNaN();
  });

  test('a million digits take no noticeable time', () => {
    expect(parseNumber(`${'1'.repeat(1_000_000)}x`, '.')).toBeNaN();
  });

  test('unit behind the number', () => {
    expect(unitSuffix('12.3 psi', '.')).toBe('psi');
    expect(unitSuffix('45%', '.')).toBe('%');
    expect(unitSuffix('21,5°C', ',')).toBe('°C');
    for (const text of ['12.3', 'psi', '0x10', '1_000', '1.2.3', '10:00:00', '1-2']) {
      expect(unitSuffix(text, '.'), text).toBeUndefined();
    }
  });
});

describe('clock times', () => {
  test.each([
    ['0:00:00', 0],
    ['10:20:30', 37230],
    ['9:05:00.5', 32700.5],
    ['23:59:59,999', 86399.999],
    ['23:59:60', 86400],
    ['25:00:00', 90000],
    ['10:00:00.1234567891234', Number('36000.1234567891234')],
  ])('%s is %d s', (text, seconds) => {
    expect(parseClock(text)).toBe(seconds);
  });

  test.each([
    '',
    '10:20',
    '10:60:00',
    '10:00:61',
    '1:2:3',
    '10:20:30.',
    '10:20:30:40',
    'aa:bb:cc',
    '-1:00:00',
    '100:00:00',
    '10:20:30 PM',
  ])('%j is no clock time', (text) => {
    expect(parseClock(text)).toBeNaN();
  });
});

describe('ISO 8601 timestamps', () => {
  test.each([
    '1970-01-01T00:00:00Z',
    '2024-05-01T10:20:30Z',
    '2024-05-01T10:20:30.125Z',
    '2024-02-29T23:59:59+02:00',
    '1969-12-31T23:59:59.5Z',
    '2024-05-01T10:20Z',
    '0050-05-01T10:20:00Z',
  ])('%s as the ECMAScript date format has it', (text) => {
    expect(parseTimestamp(text)).toBe(Date.parse(text) / 1000);
  });

  test('a space for the T, a comma, a zone in short, no zone (then UTC)', () => {
    const expected = Date.parse('2024-05-01T08:20:30.500Z') / 1000;
    expect(parseTimestamp('2024-05-01 10:20:30,5+0200')).toBe(expected);
    expect(parseTimestamp('2024-05-01T10:20:30.5+02')).toBe(expected);
    expect(parseTimestamp('2024-05-01 08:20:30.5')).toBe(expected);
  });

  test('microseconds are the nearest double', () => {
    expect(parseTimestamp('2024-05-01T08:20:30.123456Z')).toBe(1714551630.123456);
  });

  test.each([
    '2024-05-01',
    '2024-02-30T00:00:00Z',
    '2024-13-01T00:00:00Z',
    '2024-05-01T25:00:00',
    '2024-05-01T10:00:00+2',
    '2024-05-01T10:00.5',
    '01/05/2024 10:00:00',
    '2024-05-01T10:00:00 PM',
  ])('%j is no timestamp', (text) => {
    expect(parseTimestamp(text)).toBeNaN();
  });
});
