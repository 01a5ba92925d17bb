import { describe, expect, it } from 'vitest';
import { mapTexts } from '../../src/report/map-texts.ts';
import { redactText } from '../../src/report/redact.ts';

describe('redaction', () => {
  // ISO 3779: 17 characters, letters without I, O and Q. The number is invented.
  it('removes vehicle identification numbers wherever they stand', () => {
    expect(redactText('run 1XYZZ99AB9C123456.csv')).toBe('run (removed).csv');
    expect(redactText('1xyzz99ab9c123456')).toBe('(removed)');
  });

  it.each([
    'manifold_pressure',
    'a'.repeat(64),
    'ab12'.repeat(16),
    '12345678901234567',
    '1XYZZ99AB9C12345O',
    '1XYZZ99AB9C1234567',
  ])('keeps %s', (text) => {
    expect(redactText(text)).toBe(text);
  });

  it('reaches every text of a structure and leaves the rest', () => {
    const data = { a: ['x', 1, null, { b: 'x' }], c: true };
    expect(mapTexts(data, (text) => text + text)).toEqual({ a: ['xx', 1, null, { b: 'xx' }], c: true });
  });
});
