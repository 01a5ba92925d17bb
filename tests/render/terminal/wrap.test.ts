import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wrap } from '../../../src/render/terminal/wrap.ts';

describe('wrap', () => {
  it('breaks at blanks and indents', () => {
    expect(wrap('one two three four', 12, { first: '- ', rest: '  ' })).toEqual(['- one two', '  three four']);
  });

  it('cuts a word that fits on no line', () => {
    expect(wrap('abcdefghij', 6, { first: '- ', rest: '  ' })).toEqual(['- abcd', '  efgh', '  ij']);
  });

  it('cuts a path after a separator', () => {
    expect(wrap('logs/of-the-day/run.csv', 14)).toEqual(['logs/of-the-', 'day/run.csv']);
  });

  it('never goes beyond the width and loses nothing', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme-ascii', maxLength: 300 }),
        fc.integer({ min: 10, max: 120 }),
        (text, width) => {
          const lines = wrap(text, width, { first: '  - ', rest: '    ' });
          expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(Math.max(width, 4));
          const letters = (s: string) => s.replaceAll(' ', '');
          expect(letters(lines.map((line) => line.slice(4)).join(''))).toBe(letters(text));
        },
      ),
      { numRuns: 200 },
    );
  });
});
