import type { TraceLine, TraceTrack } from '../../report/pull-traces.ts';
import { boldWidth, PLOT_LEFT, PLOT_RIGHT, tenth, unitWords } from './figure-box.ts';
import { type FindingMark, MOST_LABELS } from './finding-marks.ts';
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
  return html`<text class="title" x="${PLOT_LEFT}" y="${top - 8}">${track.title}, ${unitWords(track.unit)}</text>
${legend(track, top - 12)}
${limitBands(limit, area)}${crossGrid(x, top, bottom)}${valueGrid(y, Y_TICKS)}
${marks.map((mark) => stretch(mark, area))}
${track.levels.map(({ role, value }) => isInside(y, value) && html`<path class="level ${role}" d="M${PLOT_LEFT} ${tenth(y.at(value))}H${PLOT_RIGHT}"/>`)}
${track.lines.map(
  (line, i) => html`<path class="${lineClass(track, i)}" d="${linePath(spots(line, area))}"/>
`,
)}${limitLabels(limit, area)}${stretchLabels(marks, area)}`;
}

/** Points of a line on the plot; what lies before the pull and beyond the scale is left out and not bent to its edge. */
export function spots({ runs }: TraceLine, { across, x, y, pullS }: Omit<PlotArea, 'top' | 'bottom'>): Spot[][] {
  const drawn: Spot[][] = [];
  for (const run of runs) {
    let open = false;
    for (const [timeS, rpm, value] of run) {
      const seen = isInside(y, value) && (across === 'time' || (timeS >= pullS[0] && timeS <= pullS[1]));
      if (seen && !open) drawn.push([]);
      if (seen) drawn[drawn.length - 1].push([x.at(across === 'time' ? timeS : rpm), y.at(value)]);
      open = seen;
    }
  }
  return drawn;
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

const NEAR = 13;

/** Each limit with its value: above its line, and the lower one below where the two lie close together. */
function limitLabels({ warn, fail }: TrackLimit, { y, top }: PlotArea): Markup[] {
  const close = warn !== undefined && fail !== undefined && Math.abs(y.at(warn) - y.at(fail)) < NEAR;
  return [['warn', warn] as const, ['fail', fail] as const].map(([kind, value]) => {
    if (value === undefined || !isInside(y, value)) return NOTHING;
    const at = y.at(value);
    const below = (close && kind === 'warn') || at - top < NEAR;
    return html`<path class="limit ${kind}" d="M${PLOT_LEFT} ${tenth(at)}H${PLOT_RIGHT}"/><text class="note" x="${PLOT_LEFT + 4}" y="${tenth(below ? at + 11 : at - 3)}">${kind} at ${value}</text>`;
  });
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

/** One label a finding, one below the other, beside the stretch. */
function stretchLabels(marks: readonly FindingMark[], area: PlotArea): Markup[] {
  const named = marks
    .filter(({ label }, i) => marks.findIndex((mark) => mark.label === label) === i)
    .slice(0, MOST_LABELS);
  return named.map((mark, i) => {
    const [left] = span(mark, area);
    const wide = boldWidth(mark.label) + 8;
    const x = tenth(Math.max(PLOT_LEFT + 2, Math.min(left + 4, PLOT_RIGHT - wide - 2)));
    const y = area.top + 3 + i * LABEL_LINE;
    return html`<rect class="tag" x="${x}" y="${y}" width="${tenth(wide)}" height="${LABEL_LINE - 1}"/><text class="told ${mark.verdict}" x="${x + 4}" y="${y + 11}">${mark.label}</text>
`;
  });
}
