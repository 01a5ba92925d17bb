import { formatQuantity } from '../../kernel/format-number.ts';
import type { NextStepReport } from '../../report/next-step-schema.ts';
import { projectedWords } from '../next-step-words.ts';
import { AXIS, FIGURE_RIGHT, FIGURE_WIDTH, HEADER, tenth } from './figure-box.ts';
import { type LinearScale, linearScale } from './linear-scale.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { bottomAxis, crossGrid } from './plot-frame.ts';

type Projection = NextStepReport['projections'][number];
type Interval = Projection['now'];

const ROW = 40;
const MOST_PERCENT = 150;
const LEFT = 12;

/** Each quantity as a share of its limit, now and at the next step, with 90 % intervals. */
export function headroomFigure({ projections, boost }: NextStepReport, id: string): Markup {
  const limited = projections.flatMap((one) =>
    one.limit && one.limit.value > 0 ? [{ ...one, limit: one.limit }] : [],
  );
  if (limited.length === 0) return NOTHING;
  const share = (value: number | null, limit: number) => (value === null ? MOST_PERCENT : (100 * value) / limit);
  const all = limited.flatMap(({ now, next, limit }) =>
    [now, next].flatMap((one) => [one.value, one.high].map((value) => share(value, limit.value))),
  );
  const x = linearScale([0, Math.min(MOST_PERCENT, Math.max(110, ...all))], [LEFT, FIGURE_RIGHT]);
  const bottom = HEADER + limited.length * ROW;
  const rows = limited.map(({ title, unit, now, next, limit }, i) => {
    const y = HEADER + i * ROW;
    const scaled = (one: Interval) => ({
      value: share(one.value, limit.value),
      low: share(one.low, limit.value),
      high: share(one.high, limit.value),
    });
    return html`<text x="${LEFT}" y="${y + 13}">${title}</text><text class="note end" x="${FIGURE_RIGHT}" y="${y + 13}">${projectedWords(now.value, unit)} → ${projectedWords(next.value, unit)} of ${formatQuantity(limit.value, unit)}</text>
<path class="limit fail" d="M${tenth(x.at(100))} ${y + 16}v20"/>${interval(x, scaled(now), y + 21, 'now')}${interval(x, scaled(next), y + 31, 'then')}
`;
  });
  const told = limited.map(
    ({ title, unit, now, next, limit }) =>
      `${title}: ${projectedWords(now.value, unit)} now, ${projectedWords(next.value, unit)} then, limit ${formatQuantity(limit.value, unit)}.`,
  );
  return html`<svg class="figure" viewBox="0 0 ${FIGURE_WIDTH} ${bottom + AXIS}" role="img" aria-labelledby="${id}-t ${id}-d">
<title id="${id}-t">Share of each limit, now and at ${formatQuantity(boost, 'kPa')}</title>
<desc id="${id}-d">${told.join(' ')}</desc>
<text class="title" x="${LEFT}" y="${HEADER - 10}">Share of each limit</text>
<circle class="dot now" cx="${FIGURE_RIGHT - 190}" cy="${HEADER - 14}" r="4"/><text class="note" x="${FIGURE_RIGHT - 180}" y="${HEADER - 10}">now</text><path class="dot then" d="${diamond(FIGURE_RIGHT - 140, HEADER - 14)}"/><text class="note" x="${FIGURE_RIGHT - 130}" y="${HEADER - 10}">at ${formatQuantity(boost, 'kPa')}, 90 %</text>
${crossGrid(x, HEADER, bottom)}
${rows}${bottomAxis(x, bottom, '% of the limit')}</svg>
`;
}

/** Settled boost at which each limit is met, the interval's upper end first, against now and the next step. */
export function allowanceFigure(
  { projections, settledBoost, boost, supportedBoost, furthestBoost }: NextStepReport,
  id: string,
): Markup {
  const allowing = projections.filter(({ allows }) => allows !== undefined);
  if (allowing.length === 0) return NOTHING;
  const x = linearScale(
    [Math.min(settledBoost, boost) * 0.8, Math.max(furthestBoost, boost) * 1.02],
    [LEFT, FIGURE_RIGHT],
  );
  const bottom = HEADER + 18 + allowing.length * ROW;
  const rows = allowing.map(({ title, allows }, i) => {
    const y = HEADER + 18 + i * ROW;
    const [met, surely] = [allows?.boost ?? furthestBoost, allows?.surely ?? furthestBoost];
    const words = metWords(allows?.boost, furthestBoost);
    return html`<text x="${LEFT}" y="${y + 13}">${title}</text><text class="note end" x="${FIGURE_RIGHT}" y="${y + 13}">${words}</text>
<rect class="room" x="${LEFT}" y="${y + 20}" width="${tenth(Math.max(0, x.at(Math.min(surely, met)) - LEFT))}" height="9"/><rect class="doubt" x="${tenth(x.at(Math.min(surely, met)))}" y="${y + 20}" width="${tenth(Math.abs(x.at(met) - x.at(surely)))}" height="9"/>${allows?.boost !== null && html`<path class="limit fail" d="M${tenth(x.at(met))} ${y + 16}v17"/>`}
`;
  });
  const line = (value: number, kind: string, label: string, row: number) =>
    html`<path class="post ${kind}" d="M${tenth(x.at(value))} ${HEADER + row}V${bottom}"/><text class="note" x="${tenth(x.at(value) + 3)}" y="${HEADER + row + 8}">${label}</text>`;
  return html`<svg class="figure" viewBox="0 0 ${FIGURE_WIDTH} ${bottom + AXIS}" role="img" aria-labelledby="${id}-t ${id}-d">
<title id="${id}-t">Boost that each limit allows</title>
<desc id="${id}-d">${allowing.map(({ title, allows }) => `${title}: ${metWords(allows?.boost, furthestBoost)}.`).join(' ')} Settled boost now ${formatQuantity(settledBoost, 'kPa')}, next step ${formatQuantity(boost, 'kPa')}; projections hold up to ${formatQuantity(supportedBoost, 'kPa')}.</desc>
<text class="title" x="${LEFT}" y="${HEADER - 10}">Boost that each limit allows</text>
<rect class="room" x="${FIGURE_RIGHT - 210}" y="${HEADER - 19}" width="16" height="9"/><text class="note" x="${FIGURE_RIGHT - 190}" y="${HEADER - 10}">clear of it</text><rect class="doubt" x="${FIGURE_RIGHT - 118}" y="${HEADER - 19}" width="16" height="9"/><text class="note" x="${FIGURE_RIGHT - 98}" y="${HEADER - 10}">may meet it</text>
${line(settledBoost, 'now', 'now', 0)}${line(boost, 'then', 'next step', 0)}${line(supportedBoost, 'end', 'supported to here', 10)}${rows}${bottomAxis(x, bottom, 'settled boost, kPa gauge')}</svg>
`;
}

const metWords = (boost: number | null | undefined, furthestBoost: number) =>
  typeof boost === 'number'
    ? `met at ${formatQuantity(boost, 'kPa')}`
    : `beyond ${formatQuantity(furthestBoost, 'kPa')}`;

function diamond(x: number, y: number): string {
  return `M${tenth(x - 5)} ${y}l5 -5 5 5 -5 5Z`;
}

function interval(
  x: LinearScale,
  { value, low, high }: { value: number; low: number; high: number },
  y: number,
  kind: 'now' | 'then',
): Markup {
  const at = (percent: number) => tenth(x.at(Math.min(x.domain[1], Math.max(x.domain[0], percent))));
  const mark =
    kind === 'now'
      ? html`<circle class="dot now" cx="${at(value)}" cy="${y}" r="4"/>`
      : html`<path class="dot then" d="${diamond(at(value), y)}"/>`;
  return html`<path class="reach ${kind}" d="M${at(low)} ${y}H${at(high)}"/>${mark}`;
}
