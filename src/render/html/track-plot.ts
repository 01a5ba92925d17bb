import type { TraceLine, TraceTrack } from '../../report/pull-traces.ts';
import { PLOT_LEFT, PLOT_RIGHT, tenth, textWidth } from './figure-box.ts';
import type { FindingMark } from './finding-marks.ts';
import { legend } from './legend.ts';
import { lineClass } from './line-class.ts';
import { linePath, type Spot } from './line-path.ts';
import type { LinearScale, Range } from './linear-scale.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { crossGrid, valueGrid } from './plot-frame.ts';
import { type TrackLimit, Y_TICKS } from './track-domain.ts';

export type Across = 'rpm' | 'time';

export interface PlotArea {
  readonly across: Across;
  readonly x: LinearScale;
  readonly y: LinearScale;
  readonly top: number;
  readonly bottom: number;
  /** The pull itself; engine speed is drawn inside it alone. */
  readonly pullS: Range;
}

/** One quantity of a pull: limits behind, offending stretches, then lines, then what is written on them. */
export function trackPlot(track: TraceTrack, area: PlotArea, limit: TrackLimit, marks: readonly FindingMark[]): Markup {
  const { top, bottom, x, y } = area;
  return html`<text class="title" x="${PLOT_LEFT}" y="${top - 8}">${track.title}, ${track.unit}</text>
${legend(track, top - 12)}
${limitBands(limit, area)}${crossGrid(x, top, bottom)}${valueGrid(y, Y_TICKS)}
${marks.map((mark) => stretch(mark, area))}
${track.levels.map(({ role, value }) => isInside(y, value) && html`<path class="level ${role}" d="M${PLOT_LEFT} ${tenth(y.at(value))}H${PLOT_RIGHT}"/>`)}
${track.lines.map(
  (line, i) => html`<path class="${lineClass(track, i)}" d="${linePath(spots(line, area))}"/>
`,
)}${limitLabels(limit, area)}${stretchLabels(marks, area)}`;
}

export function spots({ runs }: TraceLine, { across, x, y, pullS }: Omit<PlotArea, 'top' | 'bottom'>): Spot[][] {
  const [bottom, top] = y.domain;
  const clamp = (value: number) => Math.min(top, Math.max(bottom, value));
  return runs.map((run) =>
    run
      .filter(([timeS]) => across === 'time' || (timeS >= pullS[0] && timeS <= pullS[1]))
      .map(([timeS, rpm, value]) => [x.at(across === 'time' ? timeS : rpm), y.at(clamp(value))] as const),
  );
}

const isInside = ({ domain }: LinearScale, value: number) => value >= domain[0] && value <= domain[1];

/** From warn on and from fail on. */
function limitBands({ warn, fail }: TrackLimit, { y }: PlotArea): Markup[] {
  const [low, high] = y.domain;
  const band = (kind: string, from: number, to: number) => {
    const [a, b] = [Math.max(low, from), Math.min(high, to)];
    return a < b
      ? html`<rect class="band ${kind}" x="${PLOT_LEFT}" y="${tenth(y.at(b))}" width="${PLOT_RIGHT - PLOT_LEFT}" height="${tenth(y.at(a) - y.at(b))}"/>`
      : NOTHING;
  };
  return [
    warn === undefined ? NOTHING : band('warn', warn, fail ?? high),
    fail === undefined ? NOTHING : band('fail', fail, high),
  ];
}

function limitLabels({ warn, fail }: TrackLimit, { y }: PlotArea): Markup[] {
  return [['warn', warn] as const, ['fail', fail] as const].map(([kind, value]) =>
    value === undefined || !isInside(y, value)
      ? NOTHING
      : html`<path class="limit ${kind}" d="M${PLOT_LEFT} ${tenth(y.at(value))}H${PLOT_RIGHT}"/><text class="note end" x="${PLOT_RIGHT - 2}" y="${tenth(y.at(value) - 3)}">${kind} at ${value}</text>`,
  );
}

const LEAST_WIDTH = 3;

function span({ timeS, rpm }: FindingMark, { across, x }: PlotArea): Range {
  const [from, to] = across === 'time' ? timeS : rpm;
  const [left, right] = [x.at(from), x.at(to)].map((at) => Math.min(PLOT_RIGHT, Math.max(PLOT_LEFT, at)));
  const missing = Math.max(0, LEAST_WIDTH - (right - left)) / 2;
  return [tenth(left - missing), tenth(right + missing)];
}

function stretch(mark: FindingMark, area: PlotArea): Markup {
  const [left, right] = span(mark, area);
  const { top, bottom } = area;
  return html`<rect class="stretch ${mark.verdict}" x="${left}" y="${top}" width="${tenth(right - left)}" height="${bottom - top}"/>`;
}

const LABEL_LINE = 15;
const MOST_LABELS = 3;

/** One label a finding, one below the other, beside the stretch. */
function stretchLabels(marks: readonly FindingMark[], area: PlotArea): Markup[] {
  const named = marks
    .filter(({ label }, i) => marks.findIndex((mark) => mark.label === label) === i)
    .slice(0, MOST_LABELS);
  return named.map((mark, i) => {
    const [left] = span(mark, area);
    const wide = textWidth(mark.label) + 8;
    const x = tenth(Math.max(PLOT_LEFT + 2, Math.min(left + 4, PLOT_RIGHT - wide - 2)));
    const y = area.top + 3 + i * LABEL_LINE;
    return html`<rect class="tag" x="${x}" y="${y}" width="${tenth(wide)}" height="${LABEL_LINE - 1}"/><text class="told ${mark.verdict}" x="${x + 4}" y="${y + 11}">${mark.label}</text>
`;
  });
}
