import { formatNumber, formatQuantity } from '../../kernel/format-number.ts';
import type { NextStepReport } from '../../report/next-step-schema.ts';
import type { Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { textTable } from './text-table.ts';
import { wrap } from './wrap.ts';

type Projection = NextStepReport['projections'][number];

const COLUMNS = [
  { name: 'What', align: 'left' },
  { name: 'Unit', align: 'left' },
  { name: 'Now', align: 'right' },
  { name: 'At the next step', align: 'right' },
  { name: '90 % interval', align: 'right' },
  { name: 'Limit', align: 'right' },
  { name: 'Meets it at (kPa)', align: 'right' },
  { name: 'Standing', align: 'left' },
] as const;

const STANDINGS: Record<Projection['standing'], string> = {
  below: 'below',
  possible: 'may meet it',
  'at-or-above': 'MEETS IT',
  'no-limit': '',
};

const shown = (value: number | null, unit: string) => (value === null ? 'no end' : formatNumber(value, unit));

function row({ title, unit, now, next, limit, standing, allows }: Projection): string[] {
  return [
    title,
    unit,
    shown(now.value, unit),
    shown(next.value, unit),
    `${shown(next.low, unit)} to ${shown(next.high, unit)}`,
    limit ? formatNumber(limit.value, unit) : '',
    allows ? (allows.boost === null ? 'not reached' : formatNumber(allows.boost, 'kPa')) : '',
    STANDINGS[standing],
  ];
}

/** What the next step of boost would do, and which limit is met first. */
export function nextStepLines({ nextStep, gate }: Report, width: number, paint: Paint): string[] {
  if (!nextStep) return [];
  const { boost, settledBoost, from, supportedBoost, beyondData, projections, open, summary } = nextStep;
  const origin = from === 'build sheet' ? 'from the build sheet' : 'proposed here';
  const lead = `From ${formatQuantity(settledBoost, 'kPa')} to ${formatQuantity(boost, 'kPa')} of settled boost (${origin}). ${summary}`;
  const beyond = beyondData
    ? [
        `The log supports projections up to ${formatQuantity(supportedBoost, 'kPa')}; beyond that they are extrapolated.`,
      ]
    : [];
  const first = gate === 'fail' ? ['Not before what fails above is mended and logged again.'] : [];
  const table = projections.length > 0 ? textTable(COLUMNS, projections.map(row), width) : [];
  const headLines = table.length - projections.length;
  return [
    ...[...first, lead, ...beyond].flatMap((text) => wrap(text, width)),
    ...table.map((line, i) => (i < headLines ? paint.faint(line) : line)),
    ...open.flatMap(({ title, why }) => wrap(`${title}: ${why}`, width, { first: '  - ', rest: '    ' })),
  ];
}
