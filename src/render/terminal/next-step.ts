import { formatNumber } from '../../kernel/format-number.ts';
import type { NextStepReport } from '../../report/next-step-schema.ts';
import type { Report } from '../../report/report-schema.ts';
import {
  beyondWords,
  intervalWords,
  MET_AT,
  metAtWords,
  type Projection,
  projectedWords,
  standingWords,
  stepLead,
} from '../next-step-words.ts';
import type { Paint } from './paint.ts';
import { textTable } from './text-table.ts';
import { BOUND, wrap } from './wrap.ts';

const COLUMNS = [
  { name: 'What (unit)', align: 'left' },
  { name: 'Now', align: 'right' },
  { name: 'Then', align: 'right' },
  { name: '90 % interval', align: 'right' },
  { name: 'Limit', align: 'right' },
  { name: MET_AT, align: 'right' },
  { name: 'Standing', align: 'left' },
] as const;

const UNIT_WORDS: Readonly<Record<string, string>> = { deg: '°', degC: '°C' };

function row(projection: Projection, step: NextStepReport): string[] {
  const { title, unit, now, next, limit } = projection;
  return [
    `${title} (${(UNIT_WORDS[unit] ?? unit).replaceAll(' ', BOUND)})`,
    projectedWords(now.value, unit),
    projectedWords(next.value, unit),
    intervalWords(projection),
    limit ? formatNumber(limit.value, unit) : '',
    metAtWords(projection, step),
    standingWords(projection),
  ];
}

/** What the next step of boost would do, and which limit is met first. */
export function nextStepLines({ nextStep }: Report, width: number, paint: Paint): string[] {
  if (!nextStep) return [];
  const { projections, open, hold } = nextStep;
  const rows = projections.map((projection) => row(projection, nextStep));
  return [
    ...(hold === undefined ? [] : wrap(hold, width).map(paint.strong)),
    ...[stepLead(nextStep), ...beyondWords(nextStep)].flatMap((text) => wrap(text, width)),
    ...(rows.length > 0 ? textTable(COLUMNS, rows, width, paint.faint) : []),
    ...open.flatMap(({ title, why }) => wrap(`${title}: ${why}`, width, { first: '  - ', rest: '    ' })),
  ];
}
