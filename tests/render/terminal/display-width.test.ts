import { describe, expect, it } from 'vitest';
import { displayWidth, lengthWithin, padEndTo, padStartTo } from '../../../src/render/terminal/display-width.ts';

describe('columns that a text takes', () => {
  // Unicode Standard Annex #11 (East Asian Width): W and F are wide; Na, N, H and, outside East Asian text, A are narrow.
  it.each([
    ['run.csv', 7],
    ['Ölmotor 95 °C – λ 0,82 ≥ ½', 26],
    ['記録.csv', 8],
    ['ブースト', 8],
    ['ｱｲｳ', 3],
    ['ＲＰＭ', 6],
    ['한국', 4],
    ['한', 2],
    ['𠀋', 2],
    ['▁▄█', 3],
  ])('%s: %i', (text, columns) => {
    expect(displayWidth(text)).toBe(columns);
  });

  // Annex #11 says that emoji with picture presentation are W; that a selector or a second letter of a flag joins is common practice of terminals.
  it.each([
    ['🚗', 2],
    ['⚠️', 2],
    ['1️⃣', 2],
    ['🇩🇪', 2],
  ])('%s: %i', (text, columns) => {
    expect(displayWidth(text)).toBe(columns);
  });

  it('is none for marks on a letter', () => {
    expect(displayWidth('e\u0301')).toBe(1);
    expect(displayWidth('a\u0308o\u0308u\u0308')).toBe(3);
    expect(displayWidth('ก\u0e34')).toBe(1);
  });

  it('decides how much fits, and parts no letter from its marks', () => {
    expect(lengthWithin('漢字', 3)).toBe(1);
    expect(lengthWithin('漢字', 1)).toBe(0);
    expect(lengthWithin('e\u0301e\u0301', 1)).toBe(2);
    expect(lengthWithin('🚗🚗', 2)).toBe(2);
    expect(lengthWithin('abc', 9)).toBe(3);
  });

  it('fills up to a width', () => {
    expect(padEndTo('漢', 4)).toBe('漢  ');
    expect(padStartTo('e\u0301', 3)).toBe('  e\u0301');
    expect(padEndTo('漢字', 3)).toBe('漢字');
  });
});
