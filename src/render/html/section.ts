import { type Content, html, type Markup, NOTHING } from './markup.ts';

/** Where headings of one log begin: below the page's own. */
export interface Frame {
  /** Starts every anchor of this log. */
  readonly prefix: string;
  /** Level of its title. */
  readonly level: 1 | 2;
}

export function heading({ level }: Frame, below: number, content: Content): Markup {
  const tag = `h${level + below}`;
  return { markup: `<${tag}>${html`${content}`.markup}</${tag}>\n` };
}

/** A titled part of a log's report; nothing where its body is empty. */
export function section(frame: Frame, id: string, title: string, body: Content): Markup {
  if (html`${body}`.markup.trim() === '') return NOTHING;
  const anchor = `${frame.prefix}${id}`;
  return html`<section id="${anchor}" class="part ${id}">
${heading(frame, 1, title)}${body}</section>
`;
}
