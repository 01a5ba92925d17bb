/** ANSI escape sequences (ECMA-48 control sequences), which a terminal would obey. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const ESCAPE_SEQUENCE = /\u001b\[[0-?]*[ -/]*[@-~]/g;
const LAYOUT = /[\t-\r\u0085\u2028\u2029]+/g;
/** Control characters, and marks that reorder or hide text. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const HIDDEN = /[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/g;

/** A longer name is no name: it is cut there. */
const LONGEST_NAME = 200;

/** A header text as people would read it: trimmed, on one line, without control characters, not endless. */
export function cleanName(text: string): string {
  const name = text.replace(ESCAPE_SEQUENCE, '').replace(LAYOUT, ' ').replace(HIDDEN, '').trim();
  return name.length > LONGEST_NAME ? `${name.slice(0, LONGEST_NAME - 1)}…` : name;
}

interface ColumnNames {
  readonly names: readonly string[];
  /** For each column that got a number, because an earlier one has its name: that name. */
  readonly repeats: readonly (string | undefined)[];
}

/** Gives every column a name of its own: blank ones by their place, repeated ones a number. */
export function columnNames(texts: readonly string[]): ColumnNames {
  const taken = new Set<string>();
  const cleaned = texts.map(cleanName);
  const given = new Set(cleaned);
  const repeats: (string | undefined)[] = [];
  const names = cleaned.map((text, i) => {
    const base = text === '' ? `column ${i + 1}` : text;
    let name = base;
    for (let n = 2; taken.has(name) || (n > 2 && given.has(name)); n++) name = `${base} (${n})`;
    repeats.push(name === base ? undefined : base);
    taken.add(name);
    return name;
  });
  return { names, repeats };
}

/** The sentence about renamed columns; names that may not be shown are only counted. */
export function renamedNote(renamed: readonly string[], mayShow: (name: string) => boolean): string | undefined {
  if (renamed.length === 0) return undefined;
  const shown = renamed.filter(mayShow).slice(0, 5);
  if (shown.length === 0) return `Some columns share a name; the later ones (${renamed.length}) were renamed.`;
  const more = renamed.length > shown.length ? ` and ${renamed.length - shown.length} more` : '';
  const names = shown.map((name) => `"${name}"`).join(', ');
  return `Some columns share a name; the later ones were renamed: ${names}${more}.`;
}

const NO_UNIT = new Set(['', '-', '--', '---']);

/** A unit from the units row, without brackets; undefined where the row gives none. */
export function unitFromCell(text: string): string | undefined {
  const unit = cleanName(text).replace(/^\((.*)\)$|^\[(.*)\]$|^\{(.*)\}$/, (_, a, b, c) => a ?? b ?? c ?? '');
  return NO_UNIT.has(unit.trim()) ? undefined : unit.trim();
}
