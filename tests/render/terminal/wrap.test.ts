import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wrap } from '../../../src/render/terminal/wrap.ts';
import { wideText, widthOf } from './wide-text.ts';

const letters = (text: string) => text.replaceAll(' ', '');

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

  it('counts columns and not letters', () => {
    expect(wrap('記録記録 記録', 10)).toEqual(['記録記録', '記録']);
    expect(wrap('記録記録記録', 7)).toEqual(['記録記', '録記録']);
    expect(wrap('e\u0301e\u0301e\u0301 e\u0301', 5)).toEqual(['e\u0301e\u0301e\u0301 e\u0301']);
  });

  it('keeps a number with its unit where both fit', () => {
    expect(wrap('It lasted for 0.25 s.', 19)).toEqual(['It lasted for', '0.25 s.']);
    expect(wrap('It reached 95 % in all.', 14)).toEqual(['It reached', '95 % in all.']);
    expect(wrap('About 1,234,567 rpm', 9)).toEqual(['About', '1,234,567', 'rpm']);
  });

  it('keeps a pull, a cylinder and a bank with its number', () => {
    expect(wrap('At 3.5 s in pull 2, too.', 16)).toEqual(['At 3.5 s in', 'pull 2, too.']);
    expect(wrap('Seen on cylinders 1, 2 and 3', 18)).toEqual(['Seen on', 'cylinders 1, 2 and', '3']);
    expect(wrap('do not pull on', 11)).toEqual(['do not pull', 'on']);
  });

  it('makes no line longer than can be read, however wide the window', () => {
    expect(Math.max(...wrap('word '.repeat(100), 200).map((line) => line.length))).toBeLessThanOrEqual(110);
  });

  it('never goes beyond the width and loses nothing', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme-ascii', maxLength: 300 }),
        fc.integer({ min: 10, max: 120 }),
        (text, width) => {
          const lines = wrap(text, width, { first: '  - ', rest: '    ' });
          expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(Math.max(width, 4));
          expect(letters(lines.map((line) => line.slice(4)).join(''))).toBe(letters(text));
        },
      ),
      { numRuns: 200 },
    );
  });

  it('does so for wide letters, marks and pictures as well', () => {
    fc.assert(
      fc.property(wideText(120), fc.integer({ min: 10, max: 120 }), (text, width) => {
        const lines = wrap(text, width, { first: '  - ', rest: '    ' });
        expect(Math.max(...lines.map(widthOf))).toBeLessThanOrEqual(width);
        expect(letters(lines.map((line) => line.slice(4)).join(''))).toBe(letters(text));
      }),
      { numRuns: 200 },
    );
  });
});
