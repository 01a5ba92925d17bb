import { formatNumber } from '../../kernel/format-number.ts';
import type { TraceTrack } from '../../report/pull-traces.ts';
import { type EdgeLabel, edgeLabels } from './edge-labels.ts';
import { PLOT_LEFT, PLOT_RIGHT, tenth, writtenUnit } from './figure-box.ts';
import type { LinearScale } from './linear-scale.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import type { TrackLimit } from './track-domain.ts';

const isInside = ({ domain }: LinearScale, value: number) => value >= domain[0] && value <= domain[1];
const across = (y: number) => `M${PLOT_LEFT} ${tenth(y)}H${PLOT_RIGHT}`;

/** Targets and ceilings, and in the margin what they and the limits are. */
export function levelLines(
  { levels, unit }: Pick<TraceTrack, 'levels' | 'unit'>,
  limit: TrackLimit,
  { y, top, bottom }: { readonly y: LinearScale; readonly top: number; readonly bottom: number },
): Markup {
  const shown = levels.filter(({ value }) => isInside(y, value));
  const labels: EdgeLabel[] = [
    ...shown.map(({ role, value }) => ({ y: y.at(value), kind: role, text: formatNumber(value, writtenUnit(unit)) })),
    ...limitsInside(limit, y).map(([kind, value]) => ({ y: y.at(value), kind, text: `${kind} ${value}` })),
  ];
  return html`${shown.map(({ role, value }) => html`<path class="level ${role}" d="${across(y.at(value))}"/>`)}${edgeLabels(labels, top, bottom)}`;
}

export function limitLines(limit: TrackLimit, y: LinearScale): Markup {
  return html`${limitsInside(limit, y).map(([kind, value]) => html`<path class="limit ${kind}" d="${across(y.at(value))}"/>`)}`;
}

function limitsInside({ warn, fail }: TrackLimit, y: LinearScale): (readonly ['warn' | 'fail', number])[] {
  const all = [['warn', warn] as const, ['fail', fail] as const];
  return all.flatMap(([kind, value]) => (value !== undefined && isInside(y, value) ? [[kind, value] as const] : []));
}

/** From warn on and from fail on. */
export function limitBands({ warn, fail }: TrackLimit, y: LinearScale): Markup {
  const [low, high] = y.domain;
  const band = (kind: string, from: number | undefined, to: number) => {
    if (from === undefined) return NOTHING;
    const [a, b] = [Math.max(low, from), Math.min(high, to)];
    return a < b
      ? html`<rect class="band ${kind}" x="${PLOT_LEFT}" y="${tenth(y.at(b))}" width="${PLOT_RIGHT - PLOT_LEFT}" height="${tenth(y.at(a) - y.at(b))}"/>`
      : NOTHING;
  };
  return html`${band('warn', warn, fail ?? high)}${band('fail', fail, high)}`;
}
