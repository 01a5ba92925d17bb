import type { Finding } from '../../analysers/finding.ts';
import { decidingFindings, graveFindings, leadFinding } from '../../report/key-findings.ts';
import { nextSteps } from '../../report/next-steps.ts';
import type { AnalyserAnswer, Report } from '../../report/report-schema.ts';
import { placeList } from '../place-list.ts';
import { limitWords, measuredWords, placeWords, requiredTitle } from '../terminal/words.ts';
import { limitGauge } from './limit-gauge.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { type Frame, heading } from './section.ts';
import { verdictMark } from './verdict-mark.ts';

const TOP_PLACES = 3;
const TOP_STEPS = 6;

const anchor = ({ prefix }: Frame, { id }: Finding, index: number) =>
  `${prefix}why-${index}-${id.replace(/[^a-z0-9.-]/gi, '')}`;

/** The findings that decide, a card each, with the way to how they were found. */
export function mainReasons(frame: Frame, report: Report, drawn: ReadonlySet<number>): Markup {
  const deciding = decidingFindings(report);
  const required = report.requiredOpen ?? [];
  if (deciding.length + required.length === 0) return NOTHING;
  const all = graveFindings(report).map(({ finding }) => finding);
  return html`<div class="cards">
${deciding.map(({ finding }) => card(frame, finding, all.indexOf(finding), drawn))}${required.map(({ title, why }) => missingCard(frame, title, why))}</div>
`;
}

function card(frame: Frame, finding: Finding, index: number, drawn: ReadonlySet<number>): Markup {
  const { verdict, title, measured, limit, where, reasoning } = finding;
  const numbers = [...(measured ? [measuredWords(measured, limit)] : []), ...(limit ? [limitWords(limit)] : [])].join(
    '; ',
  );
  const seen = [...new Set(where.flatMap(({ pull }) => pull ?? []))].filter((pull) => drawn.has(pull));
  const links = seen.map((pull) => html` <a href="#${frame.prefix}pull-${pull}">Pull ${pull}</a>`);
  return html`<article class="card ${verdict}">
${heading(frame, 2, html`${verdictMark(verdict)} ${title}`)}<p>${measured ? `${numbers}.` : reasoning.at(-1)}</p>
${limitGauge(finding)}${where.length > 0 && html`<p class="where">Where: ${placeList(where, TOP_PLACES)}.</p>`}
<p class="ways"><a href="#${anchor(frame, finding, index)}">How this was found</a>${links}</p>
</article>
`;
}

/** A required answer that is missing. */
function missingCard(frame: Frame, title: string, why: string): Markup {
  return html`<article class="card not-assessed">
${heading(frame, 2, html`${verdictMark('not-assessed')} ${requiredTitle(title)}`)}<p>${why}</p>
</article>
`;
}

export function firstSteps(report: Report): Markup {
  const steps = nextSteps(report);
  return stepList(steps.slice(0, TOP_STEPS), 1);
}

export function furtherSteps(report: Report): Markup {
  return stepList(nextSteps(report).slice(TOP_STEPS), TOP_STEPS + 1);
}

function stepList(steps: readonly string[], from: number): Markup {
  return steps.length === 0
    ? NOTHING
    : html`<ol start="${from}">${steps.map((step) => html`<li>${step}</li>`)}</ol>
`;
}

/** Every warning and failing finding: what was seen, computed how, against what; where; what may have caused it, each cause and step once. */
export function derivations(frame: Frame, report: Report): Markup {
  const told = new Set<string>();
  const isNew = (text: string) => !told.has(text) && told.add(text) !== undefined;
  return html`${graveFindings(report).map(({ answer, finding }, i) => {
    const causes = finding.causes.filter((cause) => isNew(JSON.stringify(cause)));
    return derivation(
      frame,
      answer,
      { ...finding, causes, next: finding.next.filter(isNew) },
      i,
      finding === leadFinding(answer),
    );
  })}`;
}

function derivation(frame: Frame, answer: AnalyserAnswer, finding: Finding, index: number, leads: boolean): Markup {
  const { id, verdict, title, measured, limit, reasoning, where, causes, next } = finding;
  const isSummed = leads && !answer.summary.startsWith(title);
  const facts = [
    ...(measured ? [['Measured', measuredWords(measured, limit)]] : []),
    ...(limit ? [['Limits', `${limitWords(limit)} (${limit.source})`]] : []),
    ...(where.length > 0 ? [['Where', where.map(placeWords).join('; ')]] : []),
  ];
  return html`<article class="derivation ${verdict}" id="${anchor(frame, finding, index)}">
${heading(frame, 2, html`${verdictMark(verdict)} ${title} <code>${id}</code>`)}${isSummed && html`<p>${answer.summary}</p>`}
<dl class="facts">${facts.map(([name, value]) => html`<dt>${name}</dt><dd>${value}</dd>`)}</dl>
<ul>${reasoning.map((line) => html`<li>${line}</li>`)}</ul>
${causes.length > 0 && html`${heading(frame, 3, 'Possible causes')}<ul class="causes">${causes.map(causeItem)}</ul>`}
${next.length > 0 && html`${heading(frame, 3, 'Next')}<ul>${next.map((step) => html`<li>${step}</li>`)}</ul>`}
</article>
`;
}

function causeItem(cause: Finding['causes'][number]): Markup {
  const evidence = [...cause.for.map((text) => ['for', text]), ...cause.against.map((text) => ['against', text])];
  return html`<li>${cause.cause}${evidence.length > 0 && html`<ul>${evidence.map(([side, text]) => html`<li><b>${side}:</b> ${text}</li>`)}</ul>`}</li>`;
}
