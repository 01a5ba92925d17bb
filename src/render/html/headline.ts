import type { Verdict } from '../../analysers/finding.ts';
import type { FailOn } from '../../report/gate.ts';
import { readsOpen } from '../../report/gate-reading.ts';
import type { Report } from '../../report/report-schema.ts';
import { GUESSED_CAUTION, gateReason, gateTitle } from '../gate-words.ts';
import { VERDICT_WORDS } from '../terminal/words.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { type Frame, heading } from './section.ts';
import { verdictShape } from './verdict-mark.ts';

const ORDER: readonly Verdict[] = ['fail', 'warn', 'pass', 'not-assessed'];

/** What was decided, of which car and log, and how the questions came out. A fail never reads as an open gate. */
export function headline(frame: Frame, report: Report, failOn: FailOn): Markup {
  const open = readsOpen(report, failOn);
  const shown: Verdict = open ? report.gate : report.gate === 'not-assessed' ? 'not-assessed' : 'fail';
  const counts = ORDER.flatMap((verdict) => {
    const count = report.analysers.filter((answer) => answer.verdict === verdict).length;
    return count === 0
      ? []
      : html`<li class="${verdict}">${verdictShape(verdict)}${count} ${VERDICT_WORDS[verdict].toLowerCase()}</li>`;
  });
  return html`<div class="headline ${shown}">
${verdictShape(shown)}
<div>${heading(frame, 0, html`<span class="gate">${gateTitle(open)}</span> <bdi class="log">${report.log.file}</bdi>`)}
<p><b>Verdict: ${VERDICT_WORDS[report.gate]}.</b> ${gateReason(report, open)}</p>
<p class="where">Build sheet: <bdi>${report.build.title}</bdi></p>
<ul class="tally">${counts}</ul></div>
</div>
${report.mapping.guessed ? html`<p class="caution"><b>Caution.</b> ${GUESSED_CAUTION}</p>` : NOTHING}`;
}
