import type { Limit } from '../build-sheet/limit.ts';
import type { Pull } from '../drive/drive.ts';
import { formatAgainst, formatQuantity, groupThousands, type Marks } from '../kernel/format-number.ts';
import type { Finding, Place, Verdict } from './finding.ts';

const SEVERITY: readonly Verdict[] = ['not-assessed', 'pass', 'warn', 'fail'];

/** The worst verdict of the findings: fail, warn, pass; `not-assessed` only where nothing was assessed. */
export function worst(findings: readonly Pick<Finding, 'verdict'>[]): Verdict {
  return SEVERITY[Math.max(0, ...findings.map((finding) => SEVERITY.indexOf(finding.verdict)))];
}

/** A limit in force as a finding carries it. */
export function limitShown(limit: Limit): NonNullable<Finding['limit']> {
  return {
    ...(limit.warn === undefined ? {} : { warn: limit.warn }),
    ...(limit.fail === undefined ? {} : { fail: limit.fail }),
    unit: limit.unit,
    source: limit.from === 'default' ? limit.source : `build sheet (default: ${limit.source})`,
  };
}

/** A limit as a sentence part: `"warn at 10.0 %, fail at 20.0 %"`. */
export function limitWords(limit: Limit): string {
  const parts = [
    limit.warn === undefined ? undefined : `warn at ${formatQuantity(limit.warn, limit.unit)}`,
    limit.fail === undefined ? undefined : `fail at ${formatQuantity(limit.fail, limit.unit)}`,
  ].filter((part) => part !== undefined);
  return parts.length > 0 ? parts.join(', ') : 'no limit set';
}

/** Nothing could be judged: says why, and what would let the next log answer. */
export function notAssessedFinding(id: string, title: string, why: string, next: readonly string[] = []): Finding {
  return { id, verdict: 'not-assessed', title, reasoning: [why], where: [], causes: [], next: [...next] };
}

/** A place in a pull; the whole pull where no times are given. */
export function pullPlace(
  pull: Pull,
  startS: number = pull.startS,
  endS: number = pull.endS,
  rpm?: readonly [number, number],
): Place {
  const span = rpm ?? (startS === pull.startS && endS === pull.endS ? pull.rpm : undefined);
  return { pull: pull.id, start: startS, end: endS, ...(span ? { rpm: [span[0], span[1]] } : {}) };
}

/** A value with its interval, told apart from the limits it is held against: `"12.3 kPa (11.8 to 12.9 kPa)"`. */
export function withInterval(value: number, low: number, high: number, unit: string, limit?: Marks): string {
  return `${formatAgainst(value, unit, limit)} (${formatQuantity(low, unit)} to ${formatQuantity(high, unit)})`;
}

/** An engine speed in a sentence: `"6,250 rpm"`. */
export function rpmWords(rpm: number): string {
  return `${groupThousands(rpm)} rpm`;
}

/** `"pull 2"`, `"pulls 1 and 3"`, `"pulls 1, 2 and 4"`. */
export function pullNames(ids: readonly number[]): string {
  if (ids.length <= 1) return `pull ${ids.join('')}`;
  return `pulls ${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`;
}
