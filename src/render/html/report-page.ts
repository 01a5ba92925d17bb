import type { FailOn } from '../../report/gate.ts';
import type { PullTraces } from '../../report/pull-traces.ts';
import type { Report } from '../../report/report-schema.ts';
import { answerTable, openQuestions, passes } from './answers.ts';
import { basis, cautions, channelTable, dataTables } from './background.ts';
import { correctionsPart } from './corrections.ts';
import { handback } from './handback.ts';
import { headline } from './headline.ts';
import { likelyCauses } from './likely-causes.ts';
import { html, type Markup } from './markup.ts';
import { nextStepPart } from './next-step.ts';
import { pullsPart } from './pulls.ts';
import { derivations, firstSteps, furtherSteps, mainReasons } from './reasons.ts';
import { type Frame, section } from './section.ts';
import { trimMaps } from './trim-map.ts';

interface Part {
  readonly id: string;
  readonly title: string;
  readonly body: Markup;
}

/** One log: what was decided and why first, the record to hand back last. */
export function reportPage(frame: Frame, report: Report, traces: readonly PullTraces[], failOn: FailOn): Markup {
  const drawn = new Set(traces.filter(({ tracks }) => tracks.length > 0).map(({ pull }) => pull));
  const all: readonly Part[] = [
    { id: 'why', title: 'Why', body: mainReasons(frame, report, drawn) },
    { id: 'next', title: 'What next', body: firstSteps(report) },
    { id: 'answers', title: 'Answers', body: answerTable(report) },
    { id: 'pulls', title: 'Pulls', body: pullsPart(frame, report, traces) },
    { id: 'trims', title: 'Fuel trim map', body: trimMaps(report) },
    { id: 'causes', title: 'Likely causes', body: likelyCauses(frame, report) },
    { id: 'found', title: 'How the warnings and failures were found', body: derivations(frame, report) },
    { id: 'further', title: 'Further steps', body: furtherSteps(report) },
    { id: 'step', title: 'The next step of boost', body: nextStepPart(frame, report) },
    { id: 'corrections', title: 'Suggested corrections', body: correctionsPart(report) },
    { id: 'open', title: 'What could not be judged', body: openQuestions(report) },
    { id: 'passes', title: 'What the passes rest on', body: passes(report) },
    { id: 'tables', title: 'Tables', body: dataTables(report) },
    { id: 'channels', title: 'Channels', body: channelTable(report) },
    { id: 'basis', title: 'What this rests on', body: basis(report) },
    { id: 'cautions', title: 'Cautions', body: cautions(report) },
    { id: 'handback', title: 'Handback record', body: handback(frame, report, failOn) },
  ];
  const parts = all.filter(({ body }) => body.markup.trim() !== '');
  return html`${headline(frame, report, failOn)}
<nav aria-label="Contents: ${report.log.file}"><ul>${parts.map(({ id, title }) => html`<li><a href="#${frame.prefix}${id}">${title}</a></li>`)}</ul></nav>
${parts.map(({ id, title, body }) => section(frame, id, title, body))}`;
}
