import { type Content, html, type Markup } from './markup.ts';

export interface HtmlColumn {
  readonly name: Content;
  readonly number?: boolean;
  /** Holds sentences. */
  readonly words?: boolean;
}

export interface HtmlTable {
  readonly caption: Content;
  /** What a screen reader says of the part that scrolls sideways. */
  readonly label: string;
  readonly columns: readonly HtmlColumn[];
  /** The first cell of a row is its header. */
  readonly rows: readonly (readonly Content[])[];
}

/** A table that scrolls inside its own box where the window is too narrow, by keyboard too. */
export function htmlTable({ caption, label, columns, rows }: HtmlTable): Markup {
  const kind = (i: number) =>
    columns[i].number ? html` class="number"` : columns[i].words ? html` class="words"` : '';
  const head = columns.map(({ name }, i) => html`<th scope="col"${kind(i)}>${name}</th>`);
  const body = rows.map(
    (row) =>
      html`<tr>${row.map((cell, i) => (i === 0 ? html`<th scope="row"${kind(i)}>${cell}</th>` : html`<td${kind(i)}>${cell}</td>`))}</tr>
`,
  );
  return html`<div class="scroll" role="group" aria-label="${label}" tabindex="0"><table>
<caption><div>${caption}</div></caption>
<thead><tr>${head}</tr></thead>
<tbody>
${body}</tbody></table></div>
`;
}
