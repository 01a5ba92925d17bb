import { printable } from './terminal/printable.ts';

const REFERENCES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;' };

/** Keeps a mention or an issue number from becoming a link: a blank of no width comes between. */
const NO_WIDTH = '&#8203;';

/**
 * Any text as plain words of GitHub Flavored Markdown: no markup, HTML, link, mention, table cell or formula comes of it.
 * An underscore inside a word, as in a channel's name, means nothing there and stays.
 */
export function markdownText(text: string): string {
  return printable(text)
    .replace(/[\\`*[\]{}|~$!]/g, '\\$&')
    .replace(/(?<![\p{L}\p{N}])_|_(?![\p{L}\p{N}])/gu, '\\_')
    .replace(/[&<>]/g, (sign) => REFERENCES[sign])
    .replace(/#(?=\d)/g, `#${NO_WIDTH}`)
    .replace(/@(?=[\p{L}\p{N}])/gu, `@${NO_WIDTH}`)
    .replace(/:\/\//g, ':\\/\\/')
    .replace(/\b(www|mailto|xmpp)([.:])/gi, '$1\\$2')
    .replace(/^\s*[-+=#](?!\d)/, (start) => `${start.slice(0, -1)}\\${start.slice(-1)}`)
    .replace(/^(\s*\d+)([.)])(?=\s|$)/, '$1\\$2');
}

/** Any text as code: the fence is longer than any run of backticks inside. */
export function markdownCode(text: string): string {
  const safe = printable(text);
  const longest = Math.max(0, ...(safe.match(/`+/g) ?? []).map((run) => run.length));
  const fence = '`'.repeat(longest + 1);
  const pad = /^`|`$/.test(safe) || safe.trim() === '' ? ' ' : '';
  return fence + pad + safe + pad + fence;
}

export interface MarkdownColumn {
  readonly name: string;
  readonly align?: 'right';
}

/** A table of ready-made Markdown cells. */
export function markdownTable(columns: readonly MarkdownColumn[], rows: readonly (readonly string[])[]): string[] {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [
    line(columns.map(({ name }) => name)),
    line(columns.map(({ align }) => (align ? '---:' : '---'))),
    ...rows.map(line),
  ];
}
