import type { PullTraces, TrackId } from '../../report/pull-traces.ts';
import type { Report } from '../../report/report-schema.ts';
import {
  AXIS,
  FIGURE_RIGHT,
  FIGURE_WIDTH,
  HEADER,
  PLOT_LEFT,
  PLOT_RIGHT,
  tenth,
  textWidth,
  unitWords,
} from './figure-box.ts';
import { levelLines, limitLines } from './level-lines.ts';
import { linePath } from './line-path.ts';
import { linearScale } from './linear-scale.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { bottomAxis, crossGrid, valueGrid } from './plot-frame.ts';
import { trackDomain, trackLimit } from './track-domain.ts';
import { visibleRuns } from './visible-runs.ts';

const HEIGHT = 220;
const Y_TICKS = 5;
const MOST_NAMED = 6;

/** One quantity of all pulls over engine speed, in one plot; each pull has its own dashes and its number at its end. */
export function overlayFigure(report: Report, all: readonly PullTraces[], track: TrackId, id: string): Markup {
  const shown = all.flatMap((pull) => {
    const found = pull.tracks.find((one) => one.id === track);
    const line = found?.lines.find(({ role }) => role === 'measured');
    return found && line ? [{ pull, found, line }] : [];
  });
  if (shown.length === 0) return NOTHING;
  const [{ found }] = shown;
  const limit = trackLimit(report, track);
  const [top, bottom] = [HEADER, HEADER + HEIGHT];
  const speeds = shown.flatMap(({ pull, line }) =>
    line.runs.flatMap((run) => run.filter(([timeS]) => timeS >= pull.startS).map(([, rpm]) => rpm)),
  );
  if (speeds.length === 0) return NOTHING;
  const low = speeds.reduce((least, rpm) => Math.min(least, rpm));
  const high = speeds.reduce((most, rpm) => Math.max(most, rpm));
  const x = linearScale([Math.floor(low / 100) * 100, Math.ceil(high / 100) * 100 + 100], [PLOT_LEFT, PLOT_RIGHT]);
  const y = linearScale(trackDomain(track, all, limit), [bottom, top]);
  const paths = shown.map(({ pull, line }, i) => {
    const drawn = visibleRuns(line, { across: 'rpm', x, y, pullS: [pull.startS, pull.endS] });
    const end = drawn.flat().at(-1);
    return html`<path class="line s${i % 6}" d="${linePath(drawn)}"/>${end && shown.length > MOST_NAMED && html`<text class="number s${i % 6}" x="${tenth(end[0] + 4)}" y="${tenth(end[1] + 4)}">${pull.pull}</text>`}
`;
  });
  const title = `${found.title} of ${shown.length === 1 ? 'the pull' : `all ${shown.length} pulls`}`;
  return html`<svg class="figure" viewBox="0 0 ${FIGURE_WIDTH} ${bottom + AXIS}" role="img" aria-labelledby="${id}-t ${id}-d">
<title id="${id}-t">${title} over engine speed</title>
<desc id="${id}-d">${shown.map(({ pull, line }) => `Pull ${pull.pull} reaches ${tenth(highest(line.runs, pull.startS))} ${found.unit}.`).join(' ')}</desc>
<text class="title" x="${PLOT_LEFT}" y="${top - 8}">${title}, ${unitWords(found.unit)}</text>
${key(
  shown.map(({ pull }) => pull.pull),
  top - 12,
)}
${crossGrid(x, top, bottom)}${valueGrid(y, Y_TICKS)}
${levelLines(found, limit, { y, top, bottom })}${limitLines(limit, y)}
${paths}${bottomAxis(x, bottom, 'engine speed, rpm')}</svg>
`;
}

function key(pulls: readonly number[], y: number): Markup {
  if (pulls.length < 2 || pulls.length > MOST_NAMED) return NOTHING;
  const wide = 24 + textWidth('0') + 10;
  const from = FIGURE_RIGHT - pulls.length * wide;
  return html`${pulls.map((pull, i) => html`<path class="line s${i % 6}" d="M${tenth(from + i * wide)} ${y}h20"/><text class="note" x="${tenth(from + i * wide + 24)}" y="${y + 4}">${pull}</text>`)}`;
}

function highest(runs: PullTraces['tracks'][number]['lines'][number]['runs'], fromS: number): number {
  return runs
    .flat()
    .reduce((most, [timeS, , value]) => (timeS >= fromS ? Math.max(most, value) : most), Number.NEGATIVE_INFINITY);
}
