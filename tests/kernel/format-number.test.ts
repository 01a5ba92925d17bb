import { describe, expect, it } from 'vitest';
import { formatAgainst, formatNumber, formatQuantity, groupThousands } from '../../src/kernel/format-number.ts';

describe('numbers for people', () => {
  it('have the decimals of their unit, and never a negative zero', () => {
    expect(formatNumber(12.345, 'kPa')).toBe('12.3');
    expect(formatNumber(-0.04, '%')).toBe('0.0');
    expect(formatQuantity(0.85, 'ratio')).toBe('0.850');
    expect(formatQuantity(3, 'deg')).toBe('3.0°');
    expect(formatNumber(Number.NaN, 'kPa')).toBe('unknown');
    expect(formatNumber(0.0001234567, '')).toBe('0.000123');
  });

  it('have their thousands apart, in the whole part alone', () => {
    expect(formatNumber(6584, 'rpm')).toBe('6,584');
    expect(formatNumber(-6584, 'rpm')).toBe('-6,584');
    expect(formatNumber(15123.456, 'kPa')).toBe('15,123.5');
    expect(formatNumber(999.96, 'kPa')).toBe('1,000.0');
    expect(formatNumber(1234.5678, 's')).toBe('1,234.57');
    expect(formatNumber(0.12345, 'ratio')).toBe('0.123');
    expect(groupThousands(999)).toBe('999');
    expect(groupThousands(123456789)).toBe('123,456,789');
  });
});

describe('a value beside its limits', () => {
  const marks = { warn: 8, fail: 15 };
  it.each([
    [14.96, '14.96 %'],
    [-14.96, '-14.96 %'],
    [14.9996, '14.9996 %'],
    [7.98, '7.98 %'],
    [14.94, '14.9 %'],
    [15, '15.0 %'],
    [15.03, '15.0 %'],
    [12, '12.0 %'],
  ])('of %d %% reads as %s', (value, words) => expect(formatAgainst(value, '%', marks)).toBe(words));

  it('reads as it always does where there are none', () => {
    expect(formatAgainst(14.96, '%')).toBe('15.0 %');
    expect(formatAgainst(59.7, 'degC', { warn: 60 })).toBe('59.7 °C');
    expect(formatAgainst(1199.96, 'kPa', { fail: 1200 })).toBe('1,199.96 kPa');
  });

  it('never reads as a limit that it stays below', () => {
    for (let i = 1; i < 400; i++) {
      const value = 15 - i * 0.0007;
      expect(Number.parseFloat(formatAgainst(value, '%', marks))).toBeLessThan(15);
    }
  });
});
