export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (XmlElement | string)[];
}

const NAME = /^[A-Za-z_:][\w:.-]*/;
const REFERENCES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

/** The characters of XML 1.0, production 2 (Char). */
const isChar = (code: number) =>
  code === 9 ||
  code === 10 ||
  code === 13 ||
  (code >= 0x20 && code <= 0xd7ff) ||
  (code >= 0xe000 && code <= 0xfffd) ||
  (code >= 0x10000 && code <= 0x10ffff);

/**
 * Parses what our writers may write of XML 1.0 and refuses everything that is not well formed: one root, matching
 * tags, quoted and unique attributes without `<`, known references, allowed characters, no `]]>` in text.
 */
export function parseStrictXml(text: string): XmlElement {
  for (const character of text) {
    if (!isChar(character.codePointAt(0) as number)) throw new Error(`forbidden character ${codeOf(character)}`);
  }
  let at = text.match(/^<\?xml version="1\.0" encoding="UTF-8"\?>\s*/)?.[0].length ?? 0;
  at += text.slice(at).match(/^<!doctype html>\s*/)?.[0].length ?? 0;
  const fail = (what: string): never => {
    throw new Error(`${what} at ${at}: ${text.slice(Math.max(0, at - 40), at + 40)}`);
  };
  const take = (pattern: RegExp) => {
    const found = text.slice(at, at + 20000).match(pattern)?.[0];
    if (found === undefined) return undefined;
    at += found.length;
    return found;
  };
  const resolve = (raw: string) =>
    raw.replace(/&([^;&]*);?/g, (whole, name: string) => {
      if (!whole.endsWith(';')) fail('bare ampersand');
      if (name.startsWith('#')) {
        const code = name.startsWith('#x') ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1));
        if (!isChar(code)) fail(`reference to a forbidden character ${name}`);
        return String.fromCodePoint(code);
      }
      return REFERENCES[name] ?? fail(`unknown reference ${name}`);
    });

  const element = (): XmlElement => {
    if (take(/^</) === undefined) fail('no tag');
    const name = take(NAME) ?? fail('no name');
    const attributes: Record<string, string> = {};
    for (;;) {
      const blank = take(/^\s+/);
      if (take(/^\/>/)) return { name, attributes, children: [] };
      if (take(/^>/)) break;
      if (blank === undefined) fail('no blank before an attribute');
      const key = take(NAME) ?? fail('no attribute name');
      if (take(/^=/) === undefined) fail(`attribute ${key} without value`);
      const raw = take(/^"[^"<]*"/) ?? fail(`attribute ${key} not quoted`);
      if (key in attributes) fail(`attribute ${key} twice`);
      attributes[key] = resolve(raw.slice(1, -1));
    }
    const children: (XmlElement | string)[] = [];
    for (;;) {
      const end = text.indexOf('<', at);
      if (end < 0) fail(`${name} is not closed`);
      if (end > at) {
        const raw = text.slice(at, end);
        if (raw.includes(']]>')) fail('section end in text');
        children.push(resolve(raw));
        at = end;
      }
      if (!text.startsWith('</', at)) {
        children.push(element());
        continue;
      }
      at += 2;
      if (take(NAME) !== name || take(/^\s*>/) === undefined) fail(`${name} is closed by something else`);
      return { name, attributes, children };
    }
  };

  const root = element();
  if (text.slice(at).trim() !== '') fail('something after the root');
  return root;
}

export const childElements = (parent: XmlElement, name?: string): XmlElement[] =>
  parent.children.filter(
    (child): child is XmlElement => typeof child !== 'string' && (name === undefined || child.name === name),
  );

export function allElements(root: XmlElement): XmlElement[] {
  return [root, ...childElements(root).flatMap(allElements)];
}

export const textOf = (node: XmlElement | string): string =>
  typeof node === 'string' ? node : node.children.map(textOf).join('');

function codeOf(character: string): string {
  return `U+${(character.codePointAt(0) as number).toString(16)}`;
}
