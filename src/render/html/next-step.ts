import { formatNumber, formatQuantity } from '../../kernel/format-number.ts';
import type { NextStepReport } from '../../report/next-step-schema.ts';
import type { Report } from '../../report/report-schema.ts';
import { list } from './answers.ts';
import { html, type Markup, NOTHING } from './markup.ts';
import { allowanceFigure, headroomFigure } from './next-step-figures.ts';
import type { Frame } from './section.ts';
import { htmlTable } from './table.ts';

type Projection = NextStepReport['projections'][number];

const STANDINGS: Readonly<Record<Projection['standing'], string>> = {
  below: 'below',
  possible: 'may meet it',
  'at-or-above': 'MEETS IT',
  'no-limit': 'no limit given',
};

/** What the next step of boost would do, and which limit is met first. */
export function nextStepPart(frame: Frame, { nextStep, gate }: Report): Markup {
  if (!nextStep) return NOTHING;
  const { settledBoost, boost, from, summary, beyondData, supportedBoost, projections, open, reasoning } = nextStep;
  const figures = [
    headroomFigure(nextStep, `${frame.prefix}headroom`),
    allowanceFigure(nextStep, `${frame.prefix}allowance`),
  ].filter(({ markup }) => markup !== '');
  return html`${
    gate === 'fail' &&
    html`<p class="caution"><b>Not before what fails above is mended and logged again.</b></p>
`
  }<p>From ${formatQuantity(settledBoost, 'kPa')} to ${formatQuantity(boost, 'kPa')} of settled boost (${from === 'build sheet' ? 'from the build sheet' : 'proposed here'}). ${summary}</p>
${
  beyondData &&
  html`<p class="caution">The log supports projections up to ${formatQuantity(supportedBoost, 'kPa')}; beyond that they are extrapolated.</p>
`
}${
  figures.length > 0 &&
  html`<div class="pair">${figures}</div>
`
}${projections.length > 0 && projectionTable(projections)}${list([...reasoning, ...projections.flatMap((one) => one.reasoning)].map((line) => html`<li>${line}</li>`))}${list(open.map(({ title, why }) => html`<li><b>${title}:</b> ${why}</li>`))}`;
}

function projectionTable(projections: readonly Projection[]): Markup {
  const shown = (value: number | null, unit: string) => (value === null ? 'no end' : formatNumber(value, unit));
  return htmlTable({
    caption: 'Projections',
    label: 'Projections of the next step',
    columns: ['What', 'Unit', 'Now', 'At the next step', '90 % interval', 'Limit', 'Meets it at (kPa)', 'Standing'].map(
      (name, i) => ({
        name,
        number: i > 1 && i < 7,
      }),
    ),
    rows: projections.map(({ title, unit, now, next, limit, allows, standing }) => [
      title,
      unit,
      shown(now.value, unit),
      shown(next.value, unit),
      `${shown(next.low, unit)} to ${shown(next.high, unit)}`,
      limit && formatNumber(limit.value, unit),
      allows && (allows.boost === null ? 'not reached' : formatNumber(allows.boost, 'kPa')),
      STANDINGS[standing],
    ]),
  });
}
