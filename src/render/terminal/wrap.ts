import { displayWidth, lengthWithin } from './display-width.ts';

/** Lines longer than this are hard to follow, however wide the window. */
export const READABLE = 110;

export interface Indent {
  /** Before the first line. */
  readonly first: string;
  /** Before the lines that follow. */
  readonly rest: string;
}

/** What stays with the number before it. */
const UNITS: ReadonlySet<string> = new Set('% °C kPa rpm ms s Hz deg K K/s N g/s cc/min km/h V kg'.split(' '));
/** What may follow a unit at the end of a sentence or of a part of it. */
const MARKS = '.,;:)';
/** What stays with the number after it: `pull 3`. */
const NUMBERED = /(?:^|[\s(])(?:pulls?|cylinders?|bank)$/i;
/** A blank at which no line breaks if it can be helped; printed as any other. */
export const BOUND = '\u00a0';

/**
 * Breaks a text at blanks so that no line is wider than `width`, in columns of the terminal; a word that is too long by itself is cut, after a
 * separator where it has one.
 */
export function wrap(text: string, width: number, indent: Indent = { first: '', rest: '' }): string[] {
  const limit = Math.min(width, READABLE);
  if (indent.first.length + text.length <= limit && isSimple(text)) return [indent.first + text];
  const lines: string[] = [];
  let line = indent.first;
  let used = line.length;
  let empty = true;
  const newLine = () => {
    lines.push(line.trimEnd());
    line = indent.rest;
    used = line.length;
    empty = true;
  };
  for (const word of wordsOf(text, limit - indent.rest.length)) {
    let left = word;
    let columns = displayWidth(left);
    if (!empty && used + 1 + columns > limit) newLine();
    while (used + columns > limit && columns > limit - indent.rest.length) {
      const piece = left.slice(0, cutAt(left, limit - used, empty && used <= indent.rest.length));
      line += piece;
      left = left.slice(piece.length);
      columns = displayWidth(left);
      newLine();
    }
    line += empty ? left : ` ${left}`;
    used += columns + (empty ? 0 : 1);
    empty = false;
  }
  lines.push(line.trimEnd());
  return lines;
}

/** Stands on a line as it is. */
const isSimple = (text: string) => !UNEVEN.test(text) && displayWidth(text) === text.length;
const UNEVEN = /^$|^ | $| {2}|\u00a0/;

/** A digit from 0 to 9 at that place of the text. */
function isDigitAt(text: string, place: number): boolean {
  const code = text.charCodeAt(place);
  return code >= 0x30 && code <= 0x39;
}

function isUnit(word: string): boolean {
  let end = word.length;
  while (end > 0 && MARKS.includes(word[end - 1])) end--;
  return UNITS.has(word.slice(0, end));
}

/** Whether a word and the one after it belong on one line: a number and its unit, or a thing and its number. */
function areBound(before: string, part: string): boolean {
  const last = before.length - (before.endsWith(')') ? 2 : 1);
  return (isDigitAt(before, last) && isUnit(part)) || (isDigitAt(part, 0) && NUMBERED.test(before));
}

/** Parts at blanks, but for those between a number and its unit, and between a thing and its number, where both fit into `columns`. */
function wordsOf(text: string, columns: number): string[] {
  const words: string[] = [];
  for (const part of text.split(' ')) {
    if (part === '') continue;
    const before = words[words.length - 1];
    if (before !== undefined && areBound(before, part) && before.length + part.length < columns) {
      words[words.length - 1] = `${before} ${part}`;
    } else if (part.includes(BOUND)) {
      words.push(...(displayWidth(part) <= columns ? [part.replaceAll(BOUND, ' ')] : part.split(BOUND)));
    } else {
      words.push(part);
    }
  }
  return words;
}

/** Where to cut a word that is too long: after a separator in the second half of the room, else where the room ends; on a fresh line at least one letter. */
function cutAt(word: string, columns: number, fresh: boolean): number {
  const room = lengthWithin(word, Math.max(1, columns));
  const separator = Math.max(...['/', '-', '_', '.'].map((mark) => word.lastIndexOf(mark, room - 1)));
  if (room > 0 && separator >= room / 2) return separator + 1;
  return room > 0 || !fresh ? room : lengthWithin(word, 2);
}
