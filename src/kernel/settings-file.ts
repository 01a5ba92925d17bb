import { findNodeAtLocation, getNodeValue, type Node, type ParseError, parseTree } from 'jsonc-parser';
import { UserError } from './user-error.ts';

export type KeyPath = readonly (string | number)[];

/** A settings file (JSON, comments and trailing commas allowed) with the place of every key in it. */
export interface SettingsFile {
  readonly file: string;
  readonly value: unknown;
  /** 1-based line and column of what stands at the path, or of the nearest thing around it. */
  readonly placeOf: (path: KeyPath) => { readonly line: number; readonly column: number };
}

/** By the parser's error number. */
const SYNTAX: Record<number, string> = {
  1: 'a character that belongs to nothing',
  2: 'a number in a form JSON does not know',
  3: 'a key without quotes or a missing key',
  4: 'a missing value',
  5: 'a missing colon',
  6: 'a missing comma',
  7: 'a missing }',
  8: 'a missing ]',
  9: 'more text after the end',
  11: 'a comment that does not end',
  12: 'a text without its closing quote',
  13: 'a number that does not end',
  14: 'a broken \\u sequence',
  15: 'an unknown escape sequence',
  16: 'a control character inside a text',
};

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

/** `channels.engine_speed.unit`, `deadTime[0][1]`; keys that are no plain words in quotes. */
export function showPath(path: KeyPath): string {
  return path
    .map((key, i) => {
      if (typeof key === 'number') return `[${key}]`;
      const plain = /^[\w$-]+$/.test(key) ? key : JSON.stringify(key);
      return i === 0 ? plain : `.${plain}`;
    })
    .join('');
}

/** Reads JSON with comments. A text that is none is a UserError with line and column; so is a key written twice. */
export function readSettingsFile(content: string, file: string): SettingsFile {
  const text = content.startsWith('\uFEFF') ? content.slice(1) : content;
  const errors: ParseError[] = [];
  const root = parseTree(text, errors, { allowTrailingComma: true });
  const place = (offset: number) => lineAndColumn(text, offset);
  const where = (offset: number) => `${file}:${place(offset).line}:${place(offset).column}`;
  if (!root) {
    throw new UserError('the file is empty.', file, 'It holds one JSON object; "pullgate init" writes a starter.');
  }
  if (errors.length > 0) {
    const [first] = errors;
    throw new UserError(
      `this is not valid JSON: ${SYNTAX[first.error] ?? 'a slip in the notation'}.`,
      where(first.offset),
      'Comments and trailing commas are allowed.',
    );
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
