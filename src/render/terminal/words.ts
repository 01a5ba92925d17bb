import type { Finding, Place, Verdict } from '../../analysers/finding.ts';
import { formatAgainst, formatNumber, formatQuantity, groupThousands } from '../../kernel/format-number.ts';
import { isProjected } from '../../report/key-findings.ts';

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  pass: 'PASS',
  warn: 'WARN',
  fail: 'FAIL',
  'not-assessed': 'NOT ASSESSED',
};

/** `"94.3 % (93.1 to 95.4)"`; a value below a limit never reads as that limit. */
export function measuredWords(measured: NonNullable<Finding['measured']>, limit?: Finding['limit']): string {
  const { value, unit, low, high } = measured;
  const interval =
    low === undefined || high === undefined ? '' : ` (${formatNumber(low, unit)} to ${formatNumber(high, unit)})`;
  return formatAgainst(value, unit, limit?.unit === unit ? limit : undefined) + interval;
}

/** `"warn at 85.0 %, fail at 92.0 %"` */
export function limitWords({ warn, fail, unit }: NonNullable<Finding['limit']>): string {
  const parts = [
    warn === undefined ? [] : `warn at ${formatQuantity(warn, unit)}`,
    fail === undefined ? [] : `fail at ${formatQuantity(fail, unit)}`,
  ];
  return parts.flat().join(', ');
}

/** What heads a question that the build sheet wants answered and that stayed open. */
export const requiredTitle = (title: string): string => `${title}: required by the build sheet, and not answered`;

/** What was measured, in one cell of the answers; a projection is no measurement, and says so. */
export function measuredCell(finding: Finding | undefined): string {
  const { measured, limit } = finding ?? {};
  if (!finding || !measured) return '';
  const value = formatAgainst(measured.value, measured.unit, limit?.unit === measured.unit ? limit : undefined);
  return isProjected(finding) ? `${value} reckoned` : value;
}

/** `"pull 2, 48.20 to 48.90 s, 6,100 to 6,800 rpm"` */
export function placeWords({ pull, start, end, rpm }: Place): string {
  const parts = [pull === undefined ? [] : `pull ${pull}`, spanWords(start, end), rpm ? rpmWords(rpm) : []];
  return parts.flat().join(', ');
}

/** `"48.2 to 48.9 s"` */
export function spanWords(start: number, end: number): string {
  const from = start.toFixed(1);
  const to = end.toFixed(1);
  return from === to ? `at ${from} s` : `${from} to ${to} s`;
}

/** `"6,100 to 6,800 rpm"` */
export function rpmWords([low, high]: readonly [number, number]): string {
  const from = groupThousands(low);
  const to = groupThousands(high);
  return from === to ? `${from} rpm` : `${from} to ${to} rpm`;
}

export function countWords(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
