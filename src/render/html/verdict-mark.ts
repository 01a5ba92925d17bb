import type { Verdict } from '../../analysers/finding.ts';
import { VERDICT_WORDS } from '../terminal/words.ts';
import { html, type Markup } from './markup.ts';

/** Each verdict has its own outline, so that it can be told without colour. */
const SHAPES: Readonly<Record<Verdict, Markup>> = {
  pass: html`<circle cx="12" cy="12" r="10"/><path class="inside" d="M7 12.5 10.7 16 17 8.5"/>`,
  warn: html`<path d="M12 2 22.5 21H1.5Z"/><path class="inside" d="M12 9V14.2M12 17.4V17.6"/>`,
  fail: html`<path d="M7.5 1.5h9L22.5 7.5v9L16.5 22.5h-9L1.5 16.5v-9Z"/><path class="inside" d="M8 8 16 16M16 8 8 16"/>`,
  'not-assessed': html`<rect class="open" x="3" y="3" width="18" height="18" rx="2"/><path class="bare" d="M8 12H16"/>`,
};

export function verdictShape(verdict: Verdict): Markup {
  return html`<svg class="mark ${verdict}" viewBox="0 0 24 24" aria-hidden="true">${SHAPES[verdict]}</svg>`;
}

/** Shape and word. */
export function verdictMark(verdict: Verdict): Markup {
  return html`<span class="verdict ${verdict}">${verdictShape(verdict)}${VERDICT_WORDS[verdict]}</span>`;
}
