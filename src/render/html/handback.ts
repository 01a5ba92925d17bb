import type { FailOn } from '../../report/gate.ts';
import { readsOpen } from '../../report/gate-reading.ts';
import { type HandbackRecord, handbackRecord } from '../../report/handback-record.ts';
import type { Report } from '../../report/report-schema.ts';
import { gateTitle } from '../gate-words.ts';
import { limitWords, measuredWords } from '../terminal/words.ts';
import { list } from './answers.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { type Frame, heading } from './section.ts';
import { verdictMark } from './verdict-mark.ts';

/** The record that goes with the car: a page of its own, to be signed. */
export function handback(frame: Frame, report: Report, failOn: FailOn): Markup {
  const record = handbackRecord(report);
  if (!record) return checks(report.handback.map(({ item, done }) => ({ text: item, done })));
  const { car, facts, sources, gate, verdicts, done, open, cautions } = record;
  return html`<dl class="inputs">
<dt>Car</dt><dd><bdi>${car}</bdi></dd>
${facts.map(({ name, value }) => html`<dt>${name}</dt><dd>${value}</dd>`)}
${sources.map(({ name, title, sha256 }) => html`<dt>${name}</dt><dd><bdi>${title}</bdi> <code>SHA-256 ${sha256}</code></dd>`)}
<dt>Gate</dt><dd><b>${gateTitle(readsOpen(report, failOn))}</b>, ${verdictMark(gate)} over all</dd>
</dl>
${heading(frame, 2, 'Answers')}<ul class="short">${verdicts.map(({ verdict, question, measured, limit }) => html`<li>${verdictMark(verdict)} ${question}${measured && `, ${measuredWords(measured, limit)}`}</li>`)}</ul>
${heading(frame, 2, 'Done')}${checks(done.map((text) => ({ text, done: true })))}
${heading(frame, 2, 'Open')}${open.length > 0 ? checks(open.map((text) => ({ text, done: false }))) : html`<p>Nothing.</p>`}
<p class="fine"><b>Limits used</b> (* set by the build sheet, the others are defaults): ${limits(record)}</p>
<div class="fine">${list(cautions.map((text) => html`<li>${text}</li>`))}</div>
<div class="sign"><p>Workshop</p><p>Date</p><p>Owner</p><p>Date</p></div>
`;
}

function limits({ limits: all }: HandbackRecord): string {
  const told = all.map(({ id, warn, fail, unit, from }) => {
    const words = limitWords({
      unit,
      source: '',
      ...(warn !== undefined && { warn }),
      ...(fail !== undefined && { fail }),
    });
    return `${id}${from === 'build sheet' ? '*' : ''} ${words}`;
  });
  return `${told.join('; ')}.`;
}

function checks(items: readonly { readonly text: string; readonly done: boolean }[]): Markup {
  if (items.length === 0) return NOTHING;
  return html`<ul class="checks">${items.map(
    ({ text, done }) => html`<li>${box(done)}<span>${text}</span> <b>${done ? 'done' : 'open'}</b></li>
`,
  )}</ul>
`;
}

function box(done: boolean): Markup {
  return html`<svg class="box" viewBox="0 0 16 16" aria-hidden="true"><rect x="1.5" y="1.5" width="13" height="13" rx="1.5"/>${done && html`<path d="M4 8.3 7 11.4 12.2 4.6"/>`}</svg>`;
}
