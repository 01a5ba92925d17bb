/** ANSI escape sequences (ECMA-48 control sequences), which a terminal would obey. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const ESCAPE_SEQUENCE = /\u001b\[[0-?]*[ -/]*[@-~]/g;
const LAYOUT = /[\t-\r\u0085\u2028\u2029]+/g;
/** Control characters, and marks that reorder or hide text. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const HIDDEN = /[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/g;

/** A header text as people would read it: trimmed, on one line, without control characters. */
export function cleanName(text: string): string {
  return text.replace(ESCAPE_SEQUENCE, '').replace(LAYOUT, ' ').replace(HIDDEN, '').trim();
}

interface ColumnNames {
  readonly names: readonly string[];
  readonly notes: readonly string[];
}

/** Gives every column a name of its own: blank ones by their place, repeated ones a number. */
export function columnNames(texts: readonly string[]): ColumnNames {
  const taken = new Set<string>();
  const cleaned = texts.map(cleanName);
  const given = new Set(cleaned);
  const repeated: string[] = [];
  const names = cleaned.map((text, i) => {
    const base = text === '' ? `column ${i + 1}` : text;
    let name = base;
    for (let n = 2; taken.has(name) || (n > 2 && given.has(name)); n++) name = `${base} (${n})`;
    if (name !== base) repeated.push(name);
    taken.add(name);
    return name;
  });
  const shown = repeated.slice(0, 5).map((name) => `"${name}"`);
  const more = repeated.length > shown.length ? ` and ${repeated.length - shown.length} more` : '';
  const notes =
    repeated.length === 0
      ? []
      : [`Some columns share a name; the later ones were renamed: ${shown.join(', ')}${more}.`];
  return { names, notes };
}

const NO_UNIT = new Set(['', '-', '--', '---']);

/** A unit from the units row, without brackets; undefined where the row gives none. */
export function unitFromCell(text: string): string | undefined {
  const unit = cleanName(text).replace(/^\((.*)\)$|^\[(.*)\]$|^\{(.*)\}$/, (_, a, b, c) => a ?? b ?? c ?? '');
  return NO_UNIT.has(unit.trim()) ? undefined : unit.trim();
}
