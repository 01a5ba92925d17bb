import { formatNumber } from '../../kernel/format-number.ts';
import type { NextStepReport } from '../../report/next-step-schema.ts';
import type { Report } from '../../report/report-schema.ts';
import {
  beyondWords,
  intervalWords,
  MET_AT,
  metAtWords,
  projectedWords,
  standingWords,
  stepLead,
} from '../next-step-words.ts';
import { list } from './answers.ts';
import { unitWords } from './figure-box.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { allowanceFigure, headroomFigure } from './next-step-figures.ts';
import type { Frame } from './section.ts';
import { htmlTable } from './table.ts';

/** What the next step of boost would do, and which limit is met first. */
export function nextStepPart(frame: Frame, { nextStep }: Report): Markup {
  if (!nextStep) return NOTHING;
  const { hold, projections, open, reasoning } = nextStep;
  const figures = [
    headroomFigure(nextStep, `${frame.prefix}headroom`),
    allowanceFigure(nextStep, `${frame.prefix}allowance`),
  ].filter(({ markup }) => markup !== '');
  return html`${
    hold !== undefined &&
    html`<p class="caution"><b>${hold}</b></p>
`
  }<p>${stepLead(nextStep)}</p>
${beyondWords(nextStep).map(
  (text) => html`<p class="caution">${text}</p>
`,
)}${
  figures.length > 0 &&
  html`<div class="pair">${figures}</div>
`
}${projections.length > 0 && projectionTable(nextStep)}${list([...reasoning, ...projections.flatMap((one) => one.reasoning)].map((line) => html`<li>${line}</li>`))}${list(open.map(({ title, why }) => html`<li><b>${title}:</b> ${why}</li>`))}`;
}

function projectionTable(step: NextStepReport): Markup {
  return htmlTable({
    caption: 'Projections',
    label: 'Projections of the next step',
    columns: ['What', 'Unit', 'Now', 'At the next step', '90 % interval', 'Limit', MET_AT, 'Standing'].map(
      (name, i) => ({
        name,
        number: i > 1 && i < 7,
      }),
    ),
    rows: step.projections.map((projection) => {
      const { title, unit, now, next, limit } = projection;
      return [
        title,
        unitWords(unit),
        projectedWords(now.value, unit),
        projectedWords(next.value, unit),
        intervalWords(projection),
        limit && formatNumber(limit.value, unit),
        metAtWords(projection, step),
        limit ? standingWords(projection) : 'no limit given',
      ];
    }),
  });
}
