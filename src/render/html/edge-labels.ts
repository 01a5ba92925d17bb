import { PLOT_RIGHT, tenth } from './figure-box.ts';
import { html, type Markup } from './markup.ts';

/** What a level of the plot is called, in the margin right of it. */
export interface EdgeLabel {
  readonly y: number;
  readonly kind: string;
  readonly text: string;
}

const NEAR = 12;
const FROM = PLOT_RIGHT + 4;
const HALF_LETTER = 4;

/** Labels at the height of their levels, moved apart where two would overlap, upward from the lowest. */
export function edgeLabels(labels: readonly EdgeLabel[], top: number, bottom: number): Markup {
  const placed: (EdgeLabel & { readonly at: number })[] = [];
  let lowest = bottom;
  for (const label of labels.toSorted((a, b) => b.y - a.y)) {
    const at = Math.min(label.y, lowest);
    placed.push({ ...label, at });
    lowest = at - NEAR;
  }
  const over = Math.max(0, top - Math.min(...placed.map(({ at }) => at)));
  return html`${placed.map(
    ({ at, y, kind, text }, i) =>
      html`<path class="pointer" d="M${PLOT_RIGHT} ${tenth(y)}L${FROM - 1} ${tenth(at + shift(over, i, placed.length))}"/><text class="edge at-${kind}" x="${FROM}" y="${tenth(at + shift(over, i, placed.length) + HALF_LETTER)}">${text}</text>`,
  )}`;
}

/** What pushed the highest label out of the plot is shared among all above the lowest. */
function shift(over: number, i: number, count: number): number {
  return count === 1 ? over : (over * i) / (count - 1);
}
