import { createScanner, findNodeAtLocation, getNodeValue, type Node, type ParseError, parseTree } from 'jsonc-parser';
import { UserError } from './user-error.ts';

export type KeyPath = readonly (string | number)[];

/** A settings file (JSON, comments and trailing commas allowed) with the place of every key in it. */
export interface SettingsFile {
  readonly file: string;
  readonly value: unknown;
  /** 1-based line and column of what stands at the path, or of the nearest thing around it. */
  readonly placeOf: (path: KeyPath) => { readonly line: number; readonly column: number };
}

const QUOTES = 'Keys and texts stand in straight double quotes, such as "title".';
const BRACKETS = 'Give every bracket its partner.';
const ESCAPES = 'Write a backslash as \\\\.';

/** By the parser's error number: what it met, and how to mend it. */
const SYNTAX: Record<number, readonly [met: string, mend: string]> = {
  1: ['a character that belongs to nothing', QUOTES],
  2: [
    'a number in a form JSON does not know',
    'Write it as 0.9, with a point and without a unit, or as a text in quotes.',
  ],
  3: ['a key without quotes or a missing key', QUOTES],
  4: ['a missing value', 'Write a value after the colon.'],
  5: ['a missing colon', 'Write a colon between key and value.'],
  6: ['a missing comma before this', 'Write a comma after each entry.'],
  7: ['a missing }', BRACKETS],
  8: ['a missing ]', BRACKETS],
  9: ['more text after the end', 'The file holds one object in { }; take out what stands behind it.'],
  11: ['a comment that does not end', 'End it with */.'],
  12: ['a text without its closing quote', 'Close it with " on the same line.'],
  13: ['a number that does not end', 'Complete it.'],
  14: ['a broken \\u sequence', ESCAPES],
  15: ['an unknown escape sequence', ESCAPES],
  16: ['a control character inside a text', 'Take it out; a tab is written \\t.'],
};

/** A settings file holds a few kilobytes and a few levels; more is another file, or one made to do harm. */
const LONGEST_FILE = 1024 * 1024;
const DEEPEST = 32;

/** jsonc-parser's kinds of token for `{`, `}`, `[`, `]` and the end of the text. */
const OPENING: readonly number[] = [1, 3];
const CLOSING: readonly number[] = [2, 4];
const END = 17;

/** Where brackets stand too deep in each other, before anything walks down them; undefined where nowhere. */
function tooDeepAt(text: string): number | undefined {
  const scanner = createScanner(text, true);
  let depth = 0;
  for (let token: number = scanner.scan(); token !== END; token = scanner.scan()) {
    if (OPENING.includes(token) && ++depth > DEEPEST) return scanner.getTokenOffset();
    if (CLOSING.includes(token)) depth--;
  }
  return undefined;
}

function lineAndColumn(text: string, offset: number): { line: number; column: number } {
  const before = text.slice(0, offset).split(/\r\n|\r|\n/);
  return { line: before.length, column: before[before.length - 1].length + 1 };
}

/** A key written twice in one object, or one that would reach into the program rather than the settings. */
function findBadKey(node: Node, path: (string | number)[]): { path: (string | number)[]; node: Node } | undefined {
  const seen = new Set<string>();
  for (const [index, child] of (node.children ?? []).entries()) {
    const key = node.type === 'object' ? (child.children?.[0]?.value as string) : index;
    const here = [...path, key];
    if (key === '__proto__') return { path: here, node: child };
    if (node.type === 'object' && seen.has(String(key))) return { path: here, node: child };
    seen.add(String(key));
    const value = node.type === 'object' ? child.children?.[1] : child;
    const inside = value && findBadKey(value, here);
    if (inside) return inside;
  }
  return undefined;
}

/** Characters of a key that are shown. */
const LONGEST_KEY = 60;

/** `channels.engine_speed.unit`, `deadTime[0][1]`; keys that are no plain words in quotes. */
export function showPath(path: KeyPath): string {
  return path
    .map((key, i) => {
      if (typeof key === 'number') return `[${key}]`;
      const short = key.length > LONGEST_KEY ? `${key.slice(0, LONGEST_KEY)}…` : key;
      const plain = /^[\w$-]+$/.test(short) ? short : JSON.stringify(short);
      return i === 0 ? plain : `.${plain}`;
    })
    .join('');
}

/** A text in which nothing of JSON stands. */
function noSettings(text: string, file: string): UserError {
  const mend = 'A mapping or build sheet is one JSON object in { }; "pullgate init" writes starters.';
  if (text.trim() === '') return new UserError('the file is empty.', file, mend);
  const isLog = /^[^\n{]*[,;\t][^\n{]*\r?\n/.test(text);
  const what = isLog
    ? 'this looks like a log, not a mapping or build sheet.'
    : 'this is not valid JSON: no object stands in it.';
  return new UserError(what, file, isLog ? 'Logs are named without an option: pullgate check LOG.' : mend);
}

/** Reads JSON with comments. A text that is none is a UserError with line and column; so is a key written twice. */
export function readSettingsFile(content: string, file: string): SettingsFile {
  const text = content.startsWith('\uFEFF') ? content.slice(1) : content;
  if (text.length > LONGEST_FILE) {
    throw new UserError('the file is longer than 1 MiB.', file, 'A mapping or build sheet is a short text.');
  }
  const place = (offset: number) => lineAndColumn(text, offset);
  const where = (offset: number) => `${file}:${place(offset).line}:${place(offset).column}`;
  const tooDeep = tooDeepAt(text);
  if (tooDeep !== undefined) {
    throw new UserError(`brackets stand more than ${DEEPEST} deep in each other.`, where(tooDeep), 'Take them out.');
  }
  const errors: ParseError[] = [];
  const root = parseTree(text, errors, { allowTrailingComma: true });
  if (!root) throw noSettings(text, file);
  if (errors.length > 0) {
    const [first] = errors;
    const [met, mend] = SYNTAX[first.error] ?? [
      'a slip in the notation',
      'Compare it with what "pullgate init" writes.',
    ];
    throw new UserError(`this is not valid JSON: ${met}.`, where(first.offset), mend);
  }
  const bad = findBadKey(root, []);
  if (bad?.path.at(-1) === '__proto__') {
    throw new UserError('"__proto__" is not a key that can stand here.', where(bad.node.offset), 'Take it out.');
  }
  if (bad) {
    throw new UserError(`"${showPath(bad.path)}" is written twice.`, where(bad.node.offset), 'Keep one of the two.');
  }
  const placeOf = (path: KeyPath) => {
    for (let length = path.length; length > 0; length--) {
      const node = findNodeAtLocation(root, path.slice(0, length) as (string | number)[]);
      if (node) return place((node.parent?.type === 'property' ? node.parent : node).offset);
    }
    return place(root.offset);
  };
  return { file, value: getNodeValue(root), placeOf };
}
