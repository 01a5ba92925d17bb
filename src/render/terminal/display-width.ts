/**
 * What to look for in a character: East Asian Wide and Fullwidth (Unicode Standard Annex #11), and emoji that stand as pictures by themselves; marks
 * that stand on the letter before them, and the vowels and finals of a Hangul syllable. Made where they are used: Node takes a while to list them.
 */
const patterns = () => ({
  wide: /[\u1100-\u115f\u2329\u232a\u2e80-\u303e\u3041-\ua4cf\ua960-\ua97c\uac00-\ud7a3\uf900-\ufaff\ufe10-\ufe19\ufe30-\ufe6b\uff01-\uff60\uffe0-\uffe6\u{16fe0}-\u{1b2ff}\u{1f200}-\u{1f2ff}\u{20000}-\u{3fffd}\p{Emoji_Presentation}]/u,
  zero: /[\p{Mn}\p{Me}\u1160-\u11ff]/u,
});
/** A flag takes two of these. */
const REGIONAL = /[\u{1f1e6}-\u{1f1ff}]/u;
/** Makes a picture of the character before it. */
const PICTURE_SELECTOR = '\ufe0f';
/** One column a character, without a closer look: Latin, and the dashes, signs and blocks that reports use. */
const PLAIN = /^[\0-\u02ff\u2010-\u2027\u2200-\u22ff\u2580-\u259f]*$/;

/** Columns of a terminal that a text takes. */
export const displayWidth = (text: string): number => (PLAIN.test(text) ? text.length : widthOf(text));

function widthOf(text: string): number {
  const { wide, zero } = patterns();
  let [sum, last] = [0, 0];
  for (const character of text) {
    if (character === PICTURE_SELECTOR && last === 1) {
      sum += 1;
      last = 2;
    } else if (!zero.test(character)) {
      last = wide.test(character) && !REGIONAL.test(character) ? 2 : 1;
      sum += last;
    }
  }
  return sum;
}

/** How much of a text fits into so many columns, in code units: no letter is parted from its marks. */
export function lengthWithin(text: string, columns: number): number {
  let [end, width] = [0, 0];
  for (const letter of text.match(letters()) ?? []) {
    width += displayWidth(letter);
    if (width > columns) break;
    end += letter.length;
  }
  return end;
}

/** Letters with the marks on them. */
const letters = () => /.[\p{Mn}\p{Me}\u1160-\u11ff]*/gsu;

export const padEndTo = (text: string, columns: number): string => text + blanks(columns - displayWidth(text));

export const padStartTo = (text: string, columns: number): string => blanks(columns - displayWidth(text)) + text;

const blanks = (count: number) => ' '.repeat(Math.max(0, count));
