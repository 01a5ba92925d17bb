import { formatNumber, groupThousands } from '../../kernel/format-number.ts';
import { AXIS, PLOT_LEFT, PLOT_RIGHT, tenth } from './figure-box.ts';
import { type LinearScale, ticks } from './linear-scale.ts';
import { html, type Markup } from './markup.ts';

const X_TICKS = 5;

/** Horizontal lines and their values. */
export function valueGrid(scale: LinearScale, count: number): Markup {
  const values = ticks(scale.domain, count);
  const grid = values.map((value) => `M${PLOT_LEFT} ${tenth(scale.at(value))}H${PLOT_RIGHT}`).join('');
  return html`<path class="grid" d="${grid}"/>${values.map(
    (value) =>
      html`<text class="tick end" x="${PLOT_LEFT - 6}" y="${tenth(scale.at(value) + 4)}">${plainNumber(value)}</text>`,
  )}
`;
}

/** Vertical lines through a plot. */
export function crossGrid(scale: LinearScale, top: number, bottom: number): Markup {
  const grid = ticks(scale.domain, X_TICKS).map((value) => `M${tenth(scale.at(value))} ${top}V${bottom}`);
  return html`<path class="grid" d="${grid.join('')}"/>`;
}

/** Values along the bottom, and what they are. */
export function bottomAxis(scale: LinearScale, y: number, label: string, thousands: boolean): Markup {
  const values = ticks(scale.domain, X_TICKS);
  return html`<path class="axis" d="M${PLOT_LEFT} ${y}H${PLOT_RIGHT}"/>${values.map(
    (value) =>
      html`<text class="tick middle" x="${tenth(scale.at(value))}" y="${y + 16}">${thousands ? groupThousands(value) : plainNumber(value)}</text>`,
  )}<text class="label middle" x="${(PLOT_LEFT + PLOT_RIGHT) / 2}" y="${y + AXIS - 6}">${label}</text>
`;
}

/** As short as the value allows. */
function plainNumber(value: number): string {
  return String(Number(formatNumber(value, 'ratio')));
}
