import { groupThousands } from '../../kernel/format-number.ts';
import { AXIS, PLOT_LEFT, PLOT_RIGHT, tenth } from './figure-box.ts';
import { type LinearScale, tickStep, ticks } from './linear-scale.ts';
import { html, type Markup } from './markup.ts';

const X_TICKS = 5;

/** Horizontal lines and their values. */
export function valueGrid(scale: LinearScale, count: number): Markup {
  const values = ticks(scale.domain, count);
  const grid = values.map((value) => `M${PLOT_LEFT} ${tenth(scale.at(value))}H${PLOT_RIGHT}`).join('');
  const written = tickWords(scale, count);
  return html`<path class="grid" d="${grid}"/>${values.map(
    (value) =>
      html`<text class="tick end" x="${PLOT_LEFT - 6}" y="${tenth(scale.at(value) + 4)}">${written(value)}</text>`,
  )}
`;
}

/** Vertical lines through a plot. */
export function crossGrid(scale: LinearScale, top: number, bottom: number): Markup {
  const grid = ticks(scale.domain, X_TICKS).map((value) => `M${tenth(scale.at(value))} ${top}V${bottom}`);
  return html`<path class="grid" d="${grid.join('')}"/>`;
}

/** Values along the bottom, and what they are. */
export function bottomAxis(scale: LinearScale, y: number, label: string): Markup {
  const values = ticks(scale.domain, X_TICKS);
  const [left, right] = scale.domain.map(scale.at);
  const written = tickWords(scale, X_TICKS);
  return html`<path class="axis" d="M${tenth(left)} ${y}H${tenth(right)}"/>${values.map(
    (value) => html`<text class="tick middle" x="${tenth(scale.at(value))}" y="${y + 16}">${written(value)}</text>`,
  )}<text class="label middle" x="${tenth((left + right) / 2)}" y="${y + AXIS - 6}">${label}</text>
`;
}

/** All ticks of an axis with the same decimals, as few as they need. */
function tickWords({ domain: [low, high] }: LinearScale, count: number): (value: number) => string {
  const decimals = Math.max(0, -Math.floor(Math.log10(tickStep(high - low, count)) + 1e-9));
  return (value) => (decimals === 0 ? groupThousands(value) : value.toFixed(decimals));
}
