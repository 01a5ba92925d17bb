import type { Cell } from '../drive/trim/cells.ts';
import type { TrimSurvey } from '../drive/trim/total-trim.ts';
import { groupThousands } from '../kernel/format-number.ts';
import type { DataTable } from './finding.ts';

const rounded = (value: number) => (Number.isFinite(value) ? Math.round(value * 10) / 10 + 0 : null);

function row(bank: number, cell: Cell, unit: string, standing: string): (string | number | null)[] {
  const { region } = cell;
  return [
    bank,
    region.idle
      ? 'idle'
      : region.rpm
        ? `${groupThousands(region.rpm[0])} to ${groupThousands(region.rpm[1])}`
        : 'off idle',
    region.load ? `${region.load[0]} to ${region.load[1]} ${unit}` : 'all',
    rounded(cell.dwellS),
    rounded(cell.medianPercent),
    rounded(cell.spreadPercent),
    rounded(cell.effectiveN),
    rounded(cell.lowPercent),
    rounded(cell.highPercent),
    standing,
  ];
}

/** Every cell visited, judged or not. */
export function cellTable(survey: TrimSurvey): DataTable {
  const unit = survey.axis?.unit ?? '';
  return {
    id: 'fuel-trim.cells',
    title: `Total trim by operating region${survey.axis ? `, load by ${survey.axis.name}` : ''}`,
    columns: [
      { name: 'bank', unit: '' },
      { name: 'engine speed', unit: 'rpm' },
      { name: 'load', unit },
      { name: 'dwell', unit: 's' },
      { name: 'median', unit: '%' },
      { name: 'spread', unit: '%' },
      { name: 'effective n', unit: 'count' },
      { name: 'low', unit: '%' },
      { name: 'high', unit: '%' },
      { name: 'standing', unit: '' },
    ],
    rows: survey.banks.flatMap((bank) => [
      ...bank.cells.map((cell) => row(bank.bank, cell, unit, cell.judged ? 'judged' : 'too little')),
      ...bank.earlyCells.map((cell) => row(bank.bank, cell, unit, 'early only')),
    ]),
  };
}

/** Where the time of the log went. */
export function timeTable(survey: TrimSurvey): DataTable {
  return {
    id: 'fuel-trim.time',
    title: 'What was judged and what was left out',
    columns: [
      { name: 'part', unit: '' },
      { name: 'time', unit: 's' },
    ],
    rows: survey.seconds
      .filter((part) => part.seconds > 0)
      .map((part) => [part.reason === 'kept' ? 'judged' : part.reason, rounded(part.seconds)]),
  };
}
