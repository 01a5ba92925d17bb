import { formatQuantity, groupThousands } from '../../kernel/format-number.ts';
import type { PullTraces, TraceTrack } from '../../report/pull-traces.ts';
import type { Report } from '../../report/report-schema.ts';
import { AXIS, FIGURE_WIDTH, HEADER, LANE, PLOT_LEFT, PLOT_RIGHT, writtenUnit } from './figure-box.ts';
import { laneCount } from './finding-lanes.ts';
import { type FindingMark, findingMarks } from './finding-marks.ts';
import { linearScale, type Range } from './linear-scale.ts';
import { html, type Markup } from './markup.ts';
import { bottomAxis } from './plot-frame.ts';
import { trackDomain, trackLimit } from './track-domain.ts';
import { trackPlot } from './track-plot.ts';
import type { Across } from './visible-runs.ts';

/** Boost is what a pull is about; its plot is the tallest. */
const heightOf = ({ id }: TraceTrack) => (id === 'boost' ? 112 : 80);
const ticksOf = ({ id }: TraceTrack) => (id === 'boost' ? 4 : 3);
const BETWEEN = 10;

/** All quantities of a pull, one above the other over one axis: engine speed, or time. */
export function pullFigure(
  report: Report,
  all: readonly PullTraces[],
  traces: PullTraces,
  across: Across,
  id: string,
): Markup {
  const { tracks, startS, endS } = traces;
  const marks = findingMarks(report, traces);
  const x = linearScale(across === 'time' ? timeDomain(traces) : speedDomain(traces), [PLOT_LEFT, PLOT_RIGHT]);
  let height = 0;
  const plots = tracks.map((track) => {
    const own = marks.filter((mark) => mark.track === track.id);
    const top = height + HEADER + laneCount(own) * LANE;
    const bottom = top + heightOf(track);
    height = bottom + BETWEEN;
    const limit = trackLimit(report, track.id);
    const y = linearScale(trackDomain(track.id, all, limit), [bottom, top]);
    const pullS = [startS, endS] as const;
    return trackPlot(track, { across, x, y, top, bottom, pullS, yTicks: ticksOf(track) }, limit, own);
  });
  height += AXIS - BETWEEN;
  const label = across === 'time' ? 'time since the start of the log, s' : 'engine speed, rpm';
  const over = across === 'time' ? 'time' : 'engine speed';
  return html`<svg class="figure" viewBox="0 0 ${FIGURE_WIDTH} ${height}" role="img" aria-labelledby="${id}-t ${id}-d">
<title id="${id}-t">Pull ${traces.pull} over ${over}</title>
<desc id="${id}-d">${description(traces, marks)}</desc>
${plots}${bottomAxis(x, height - AXIS, label)}</svg>
`;
}

function timeDomain({ tracks, startS, endS }: PullTraces): Range {
  const first = Math.min(startS, ...tracks.flatMap(({ lines }) => lines.flatMap(({ runs }) => runs[0][0][0])));
  return [first, endS];
}

function speedDomain({ tracks, startS, endS }: PullTraces): Range {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { lines } of tracks) {
    for (const [timeS, rpm] of lines.flatMap(({ runs }) => runs.flat())) {
      if (timeS < startS || timeS > endS) continue;
      low = Math.min(low, rpm);
      high = Math.max(high, rpm);
    }
  }
  return low < high ? [Math.floor(low / 100) * 100, Math.ceil(high / 100) * 100] : [0, 1000];
}

/** What the picture shows, for those who do not see it. */
function description(traces: PullTraces, marks: readonly FindingMark[]): string {
  const seen = traces.tracks.map(
    (track) => `${track.title}: ${track.lines.map((line) => course(track, line, traces)).join('; ')}.`,
  );
  const told = [
    ...new Set(
      marks.map(
        ({ label, timeS, rpm }) =>
          `${label}, ${timeS[0].toFixed(1)} to ${timeS[1].toFixed(1)} s, ${groupThousands(rpm[0])} to ${groupThousands(rpm[1])} rpm.`,
      ),
    ),
  ];
  return [...seen, ...(told.length > 0 ? ['Marked:', ...told] : ['Nothing is marked.'])].join(' ');
}

function course({ unit }: TraceTrack, { label, runs }: TraceTrack['lines'][number], { startS }: PullTraces): string {
  const inside = runs.flat().filter(([timeS]) => timeS >= startS);
  const values = (inside.length > 0 ? inside : runs.flat()).map(([, , value]) => value);
  const shown = (value: number) => formatQuantity(value, writtenUnit(unit));
  return `${label} from ${shown(Math.min(...values))} to ${shown(Math.max(...values))}`;
}
