import { printable } from '../terminal/printable.ts';
import { xmlAttribute } from '../xml-text.ts';

/** Markup that was made by `html` and may go into a page as it is. */
export interface Markup {
  readonly markup: string;
}

export type Content = Markup | string | number | undefined | false | readonly Content[];

/** Makes markup. Every text that is filled in is made printable and escaped for element and quoted attribute alike; nothing gets in raw. */
export function html(parts: TemplateStringsArray, ...contents: readonly Content[]): Markup {
  let markup = parts[0];
  for (let i = 0; i < contents.length; i++) markup += written(contents[i]) + parts[i + 1];
  return { markup };
}

export const NOTHING: Markup = { markup: '' };

function written(content: Content): string {
  if (content === undefined || content === false) return '';
  if (typeof content === 'number') return String(content);
  if (typeof content === 'string') return xmlAttribute(printable(content));
  return 'markup' in content ? content.markup : content.map(written).join('');
}
