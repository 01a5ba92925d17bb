import type { Report } from '../../report/report-schema.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { type Frame, heading } from './section.ts';

type Cause = NonNullable<Report['causes']>[number];

const TOLD_IN_FULL = 3;

/** The best supported causes in full; the rest, with what speaks for and against them. */
export function likelyCauses(frame: Frame, { causes = [] }: Report): Markup {
  if (causes.length === 0) return NOTHING;
  const full = causes.filter(({ standing }) => standing !== 'unlikely').slice(0, TOLD_IN_FULL);
  const rest = causes.filter((cause) => !full.includes(cause));
  return html`${full.map((cause) => inFull(frame, cause))}${
    rest.length > 0 &&
    html`<ul>${rest.map(inShort)}</ul>
`
  }`;
}

const points = (score: number) => `${score} point${Math.abs(score) === 1 ? '' : 's'}`;

function inFull(frame: Frame, { cause, standing, score, physics, next, open, ...evidence }: Cause): Markup {
  const rows = [
    ['For', evidence.for],
    ['Against', evidence.against],
    ['Not known', open],
    ['Check', next.map(({ step, cost }) => `(${cost}) ${step}`)],
  ] as const;
  return html`<article class="cause">
${heading(frame, 2, html`${cause} <small>${standing}, ${points(score)}</small>`)}<p>${physics}</p>
<dl class="facts">${rows.map(([name, texts]) => texts.length > 0 && html`<dt>${name}</dt><dd>${texts.map((text) => html`<p>${text}</p>`)}</dd>`)}</dl>
</article>
`;
}

function inShort({ cause, standing, score, ...evidence }: Cause): Markup {
  const told = [...evidence.for.map((text) => `For: ${text}`), ...evidence.against.map((text) => `Against: ${text}`)];
  return html`<li><b>${standing === 'unlikely' ? 'Unlikely' : 'Also possible'}:</b> ${cause}, ${points(score)}. ${told.join(' ')}</li>
`;
}
