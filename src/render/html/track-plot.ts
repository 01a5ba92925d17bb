import { formatNumber } from '../../kernel/format-number.ts';
import type { TraceTrack } from '../../report/pull-traces.ts';
import { HEADER, LANE, PLOT_LEFT, PLOT_RIGHT, tenth, textWidth, unitWords } from './figure-box.ts';
import { findingLanes, laneCount, stretches } from './finding-lanes.ts';
import type { FindingMark } from './finding-marks.ts';
import { legend } from './legend.ts';
import { levelLines, limitBands, limitLines } from './level-lines.ts';
import { lineClass } from './line-class.ts';
import { linePath, type Spot } from './line-path.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { crossGrid, valueGrid } from './plot-frame.ts';
import type { TrackLimit } from './track-domain.ts';
import { type Plane, visibleRuns } from './visible-runs.ts';

export interface PlotArea extends Plane {
  readonly top: number;
  readonly bottom: number;
  readonly yTicks: number;
}

/** One quantity of a pull: name, findings, then the plot with limits behind, offending stretches, and lines. */
export function trackPlot(track: TraceTrack, area: PlotArea, limit: TrackLimit, marks: readonly FindingMark[]): Markup {
  const { top, bottom, x, y, yTicks } = area;
  const head = top - laneCount(marks) * LANE - HEADER;
  const drawn = track.lines.map((line) => visibleRuns(line, area));
  return html`<text class="title" x="${PLOT_LEFT}" y="${head + 16}">${track.title}, ${unitWords(track.unit)}</text>
${legend(track, head + 12)}
${limitBands(limit, y)}${crossGrid(x, top, bottom)}${valueGrid(y, yTicks)}
${stretches(marks, area)}${findingLanes(marks, area)}
${levelLines(track, limit, area)}
${drawn.map(
  (spots, i) => html`<path class="${lineClass(track, i)}" d="${linePath(spots)}"/>
`,
)}${limitLines(limit, y)}${track.id === 'retard' && track.lines.length > 1 && worstName(track, drawn)}`;
}

const LOUD_DEG = 1;
const ASIDE = 5;

/** The cylinder that is retarded most, named where it is. */
function worstName({ lines }: TraceTrack, drawn: readonly (readonly (readonly Spot[])[])[]): Markup {
  const highest = lines.map(({ runs }) => runs.flat().reduce((most, [, , deg]) => Math.max(most, deg), 0));
  const worst = highest.indexOf(Math.max(...highest));
  const peak = drawn[worst]
    .flat()
    .reduce<Spot | undefined>((best, spot) => (best && best[1] <= spot[1] ? best : spot), undefined);
  if (highest[worst] < LOUD_DEG || !peak) return NOTHING;
  const text = `${lines[worst].label}: ${formatNumber(highest[worst], 'deg')}°`;
  const fits = peak[0] - ASIDE - textWidth(text) > PLOT_LEFT;
  const x = fits ? peak[0] - ASIDE : Math.min(peak[0] + ASIDE, PLOT_RIGHT - textWidth(text));
  return html`<text class="note${fits ? ' end' : ''}" x="${tenth(x)}" y="${tenth(peak[1] + 9)}">${text}</text>`;
}
