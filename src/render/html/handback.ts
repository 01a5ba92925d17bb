import type { FailOn } from '../../report/gate.ts';
import { readsOpen } from '../../report/gate-reading.ts';
import type { Report } from '../../report/report-schema.ts';
import { gateTitle } from '../gate-words.ts';
import { VERDICT_WORDS } from '../terminal/words.ts';
import { html, type Markup } from './markup.ts';

const HASH_SHOWN = 16;

/** The record that goes with the car: a page of its own, with room to sign. */
export function handback(report: Report, failOn: FailOn): Markup {
  const { handback: items, build, log, gate, cautions } = report;
  const open = items.filter(({ done }) => !done).length;
  const state =
    items.length === 0
      ? 'The build sheet lists no handback items.'
      : `${items.length - open} of ${items.length} items done.`;
  return html`<dl class="inputs">
<dt>Car</dt><dd><bdi>${build.title}</bdi></dd>
<dt>Log</dt><dd><bdi>${log.file}</bdi> <code>SHA-256 ${log.sha256.slice(0, HASH_SHOWN)}…</code></dd>
<dt>Gate</dt><dd>${gateTitle(readsOpen(report, failOn))}, verdict ${VERDICT_WORDS[gate]}</dd>
</dl>
<p>${state}</p>
<ul class="checks">${items.map(
    ({
      item,
      done,
    }) => html`<li class="${done ? 'done' : 'open'}">${box(done)}<span>${item}</span> <b>${done ? 'done' : 'open'}</b></li>
`,
  )}</ul>
<div class="sign"><p>Name</p><p>Date</p><p>Signature</p></div>
<p class="fine">${cautions[0]}</p>
`;
}

function box(done: boolean): Markup {
  return html`<svg class="box" viewBox="0 0 16 16" aria-hidden="true"><rect x="1.5" y="1.5" width="13" height="13" rx="1.5"/>${done && html`<path d="M4 8.3 7 11.4 12.2 4.6"/>`}</svg>`;
}
