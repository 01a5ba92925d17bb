import { formatNumber, groupThousands } from '../kernel/format-number.ts';
import type { Report } from '../report/report-schema.ts';

export type Corrections = NonNullable<Report['corrections']>;
export type CorrectionCell = Corrections['cells'][number];

const trimmed = (value: number) => String(Number(value.toFixed(1)));

/** `"2,750 to 3,250"`, or what stands for a cell without a band of speed. */
export function speedBand({ idle, rpm }: CorrectionCell): string {
  if (idle) return 'idle';
  return rpm ? `${groupThousands(rpm[0])} to ${groupThousands(rpm[1])}` : 'all off idle';
}

export function loadBand({ idle, load }: CorrectionCell): string {
  if (load) return `${trimmed(load[0])} to ${trimmed(load[1])}`;
  return idle ? 'idle' : 'all';
}

/** A cell's factor (starred where it was held to one step), error with its interval, samples and seconds, as tables show them. */
export function correctionFigures(cell: CorrectionCell): string[] {
  return [
    `${(cell.factor ?? 1).toFixed(3)}${cell.limited ? '*' : ''}`,
    formatNumber(cell.error, '%'),
    formatNumber(cell.low, '%'),
    formatNumber(cell.high, '%'),
    groupThousands(cell.samples),
    cell.seconds.toFixed(1),
  ];
}

/** One factor by speed and load: full load goes before closed loop; blank where there is none, or the two pull apart. */
export function factorAt(cells: readonly CorrectionCell[], speed: string, load: string): number | undefined {
  const there = cells.filter((cell) => speedBand(cell) === speed && loadBand(cell) === load && cell.factor !== null);
  const factors = there.map(({ factor }) => factor as number);
  if (factors.some((factor) => factor > 1) && factors.some((factor) => factor < 1)) return undefined;
  return (there.find(({ source }) => source === 'full load') ?? there[0])?.factor ?? undefined;
}
