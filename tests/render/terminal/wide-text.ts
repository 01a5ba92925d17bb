import fc from 'fast-check';

/** Letters with the columns that each takes by Unicode Standard Annex #11; marks take none. */
const LETTERS: readonly (readonly [string, number])[] = [
  ['a', 1],
  ['7', 1],
  ['-', 1],
  ['/', 1],
  [' ', 1],
  ['ü', 1],
  ['e\u0301', 1],
  ['–', 1],
  ['Ж', 1],
  ['ｱ', 1],
  ['漢', 2],
  ['ブ', 2],
  ['한', 2],
  ['Ａ', 2],
  ['😀', 2],
  ['𠀋', 2],
];
const COLUMNS = new Map(LETTERS);

/** A text of letters whose width is known. */
export const wideText = (maxLength: number): fc.Arbitrary<string> =>
  fc.array(fc.constantFrom(...LETTERS), { maxLength }).map((letters) => letters.map(([letter]) => letter).join(''));

/** Width of a text of such letters and of what reports write themselves, counted apart from the program. */
export function widthOf(text: string): number {
  let width = 0;
  for (const { segment } of new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(text)) {
    width += COLUMNS.get(segment) ?? 1;
  }
  return width;
}
