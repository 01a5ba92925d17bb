import type { Finding } from '../../analysers/finding.ts';
import { limitWords, measuredWords } from '../terminal/words.ts';
import { linearScale } from './linear-scale.ts';
import { html, type Markup, NOTHING } from './markup.ts';

const WIDTH = 160;
const HEIGHT = 22;
const MIDDLE = 13;

/** Where a measured value stands against its limits: a bar from zero, its interval, and a tick for each limit. */
export function limitGauge({ verdict, measured, limit }: Finding): Markup {
  if (!measured || !limit || measured.unit !== limit.unit) return NOTHING;
  const limits = [limit.warn, limit.fail].filter((value) => value !== undefined);
  if (limits.length === 0) return NOTHING;
  const { value, low = value, high = value } = measured;
  const top = Math.max(...limits.map((one) => one * 1.15), value, high);
  const bottom = Math.min(0, value, low);
  const { at } = linearScale([bottom, top], [2, WIDTH - 2]);
  const x = (point: number) => Math.round(at(point) * 10) / 10;
  const tick = (point: number | undefined, kind: string) =>
    point === undefined ? NOTHING : html`<path class="limit ${kind}" d="M${x(point)} 3V${HEIGHT - 1}"/>`;
  const [left, right] = [x(Math.min(0, value)), x(Math.max(0, value))];
  return html`<svg class="gauge" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${`${measuredWords(measured, limit)}; ${limitWords(limit)}`}">
<path class="rail" d="M2 ${MIDDLE}H${WIDTH - 2}${bottom < 0 ? `M${x(0)} ${MIDDLE - 8}v16` : ''}"/>
<rect class="bar ${verdict}" x="${left}" y="${MIDDLE - 4}" width="${Math.max(1, Math.round((right - left) * 10) / 10)}" height="8"/>
${high > low ? html`<path class="whisker" d="M${x(low)} ${MIDDLE}H${x(high)}M${x(low)} ${MIDDLE - 3}v6M${x(high)} ${MIDDLE - 3}v6"/>` : NOTHING}
${tick(limit.warn, 'warn')}${tick(limit.fail, 'fail')}</svg>`;
}
