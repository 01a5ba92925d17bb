import { formatNumber, groupThousands } from '../../kernel/format-number.ts';
import type { PullTraces } from '../../report/pull-traces.ts';
import type { Report } from '../../report/report-schema.ts';
import { list } from './answers.ts';
import { unshownFindings } from './finding-marks.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { overlayFigure } from './overlay-figure.ts';
import { pullFigure } from './pull-figure.ts';
import { type Frame, heading } from './section.ts';
import { htmlTable } from './table.ts';
import { verdictMark } from './verdict-mark.ts';

/** All pulls together, then each one drawn. */
export function pullsPart(frame: Frame, report: Report, traces: readonly PullTraces[]): Markup {
  if (report.pulls.length === 0) return html`<p>No full-load pull in this log.</p>`;
  const overlays = [
    overlayFigure(report, traces, 'boost', `${frame.prefix}all-boost`),
    overlayFigure(report, traces, 'duty', `${frame.prefix}all-duty`),
  ].filter(({ markup }) => markup !== '');
  return html`${pullTable(frame, report, traces)}${
    overlays.length > 0 &&
    html`<div class="pair">${overlays}</div>
`
  }${traces.map((one) => pullPart(frame, report, traces, one))}`;
}

function pullTable(frame: Frame, { pulls }: Report, traces: readonly PullTraces[]): Markup {
  const drawn = (id: number) => traces.some(({ pull, tracks }) => pull === id && tracks.length > 0);
  return htmlTable({
    caption: 'Full-load accelerations found in the log',
    label: 'Pulls',
    columns: [
      { name: 'Pull' },
      { name: 'From (s)', number: true },
      { name: 'To (s)', number: true },
      { name: 'From (rpm)', number: true },
      { name: 'To (rpm)', number: true },
      { name: 'Gear', number: true },
      { name: 'Settled boost (kPa)', number: true },
      { name: 'Standing', words: true },
    ],
    rows: pulls.map((pull) => [
      drawn(pull.id) ? html`<a href="#${frame.prefix}pull-${pull.id}">Pull ${pull.id}</a>` : `Pull ${pull.id}`,
      pull.start.toFixed(1),
      pull.end.toFixed(1),
      groupThousands(pull.rpm[0]),
      groupThousands(pull.rpm[1]),
      pull.gear ?? '',
      pull.settledBoost === null ? '' : formatNumber(pull.settledBoost, 'kPa'),
      [pull.usable ? 'Usable.' : 'Not usable.', ...pull.notes].join(' '),
    ]),
  });
}

function pullPart(frame: Frame, report: Report, all: readonly PullTraces[], traces: PullTraces): Markup {
  if (traces.tracks.length === 0) return NOTHING;
  const id = `${frame.prefix}pull-${traces.pull}`;
  const gear = report.pulls.find((pull) => pull.id === traces.pull)?.gear;
  const others = unshownFindings(report, traces).map(
    ({ verdict, title }) => html`<li>${verdictMark(verdict)} ${title}</li>`,
  );
  return html`<section class="pull" id="${id}">
${heading(frame, 2, `Pull ${traces.pull}, ${traces.startS.toFixed(1)} to ${traces.endS.toFixed(1)} s${gear ? `, gear ${gear}` : ''}`)}<div class="pair">
${pullFigure(report, all, traces, 'rpm', `${id}-rpm`)}${pullFigure(report, all, traces, 'time', `${id}-time`)}</div>
${others.length > 0 && html`<p>Found in this pull as well, and not drawn:</p>${list(others)}`}</section>
`;
}
