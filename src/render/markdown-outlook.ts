import { formatNumber } from '../kernel/format-number.ts';
import type { Report } from '../report/report-schema.ts';
import { loadBand, speedBand } from './correction-bands.ts';
import { markdownTable, markdownText as md } from './markdown-text.ts';
import {
  beyondWords,
  intervalWords,
  MET_AT,
  metAtWords,
  projectedWords,
  standingWords,
  stepLead,
} from './next-step-words.ts';

/** What would explain the warnings and failures together, the best supported first. */
export function causeLines({ causes = [] }: Report): string[] {
  return causes.flatMap(({ cause, standing, score, physics, next, ...evidence }, i) => [
    `${i + 1}. **${md(cause)}** (${standing}, ${score} points). ${md(physics)}`,
    ...evidence.for.map((text) => `   - For: ${md(text)}`),
    ...evidence.against.map((text) => `   - Against: ${md(text)}`),
    ...next.map(({ step, cost }) => `   - Check (${cost}): ${md(step)}`),
  ]);
}

/** What the next step of boost would do, and which limit is met first. */
export function nextStepLines({ nextStep }: Report): string[] {
  if (!nextStep) return [];
  const { hold, projections, open } = nextStep;
  const rows = projections.map((projection) => {
    const { title, unit, now, next, limit } = projection;
    return [
      md(title),
      md(unit),
      projectedWords(now.value, unit),
      projectedWords(next.value, unit),
      intervalWords(projection),
      limit ? formatNumber(limit.value, unit) : '',
      metAtWords(projection, nextStep),
      standingWords(projection),
    ];
  });
  const names = ['What', 'Unit', 'Now', 'At the next step', '90 % interval', 'Limit', MET_AT, 'Standing'];
  return [
    ...(hold === undefined ? [] : [`**${md(hold)}**`, '']),
    md([stepLead(nextStep), ...beyondWords(nextStep)].join(' ')),
    ...(rows.length > 0
      ? [
          '',
          ...markdownTable(
            names.map((name) => ({ name })),
            rows,
          ),
        ]
      : []),
    ...(open.length > 0 ? ['', ...open.map(({ title, why }) => `- ${md(`${title}: ${why}`)}`)] : []),
  ];
}

/** Suggested factors; nothing where none is suggested. */
export function correctionLines({ corrections }: Report): string[] {
  const suggested = corrections?.cells.filter(({ factor }) => factor !== null) ?? [];
  if (!corrections || suggested.length === 0) return [];
  const { axis, caution } = corrections;
  const names = [
    'Engine speed (rpm)',
    axis ? `${axis.name} (${axis.unit})` : 'load',
    'From',
    'Factor',
    'Fuel lacking (%)',
  ];
  const rows = suggested.map((cell) => [
    speedBand(cell),
    loadBand(cell),
    cell.source,
    `${(cell.factor ?? 1).toFixed(3)}${cell.limited ? '\\*' : ''}`,
    formatNumber(cell.error, '%'),
  ]);
  const star = suggested.some(({ limited }) => limited) ? ['', '\\* held to one step; the error is larger.'] : [];
  return [
    md(caution),
    '',
    ...markdownTable(
      names.map((name) => ({ name: md(name) })),
      rows,
    ),
    ...star,
  ];
}
