/** Lines longer than this are hard to follow, however wide the window. */
const READABLE = 110;

export interface Indent {
  /** Before the first line. */
  readonly first: string;
  /** Before the lines that follow. */
  readonly rest: string;
}

/** Breaks a text at blanks so that no line is wider than `width`; a word that is too long by itself is cut, after a separator where it has one. */
export function wrap(text: string, width: number, indent: Indent = { first: '', rest: '' }): string[] {
  const lines: string[] = [];
  let line = indent.first;
  let empty = true;
  const limit = Math.min(width, READABLE);
  const newLine = () => {
    lines.push(line.trimEnd());
    line = indent.rest;
    empty = true;
  };
  for (const word of text.split(' ').filter(Boolean)) {
    let left = word;
    if (!empty && line.length + 1 + left.length > limit) newLine();
    while (line.length + left.length > limit && left.length > limit - indent.rest.length) {
      const piece = left.slice(0, cutAt(left, Math.max(1, limit - line.length)));
      line += piece;
      left = left.slice(piece.length);
      newLine();
    }
    line += empty ? left : ` ${left}`;
    empty = false;
  }
  lines.push(line.trimEnd());
  return lines;
}

/** Where to cut a word that is too long: after a separator in the second half of the room, else where the room ends. */
function cutAt(word: string, room: number): number {
  const separator = Math.max(...['/', '-', '_', '.'].map((mark) => word.lastIndexOf(mark, room - 1)));
  return separator >= room / 2 ? separator + 1 : room;
}
