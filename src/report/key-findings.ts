import type { Finding, Verdict } from '../analysers/finding.ts';
import type { AnalyserAnswer, Report } from './report-schema.ts';
import { isUrgent } from './urgent-findings.ts';

export interface KeyFinding {
  readonly answer: AnalyserAnswer;
  readonly finding: Finding;
}

const GRAVE: readonly Verdict[] = ['fail', 'warn'];

/**
 * Findings that warn or fail: failures first, and among equals what can wreck the engine in one pull. Before them all the ones that decide their
 * analysers, in the same order.
 */
export function graveFindings(report: Pick<Report, 'analysers'>): KeyFinding[] {
  const deciding = decidingFindings(report);
  const all = report.analysers.flatMap((answer) => answer.findings.map((finding) => ({ answer, finding })));
  const others = all.filter(({ finding }) => !deciding.some((key) => key.finding === finding));
  return [...deciding, ...byGravity(others)];
}

/** The finding that decided each failing, then each warning analyser; in each, what can wreck the engine in one pull goes first. */
export function decidingFindings(report: Pick<Report, 'analysers'>): KeyFinding[] {
  return byGravity(
    report.analysers.flatMap((answer) => {
      const finding = leadFinding(answer);
      return finding ? [{ answer, finding }] : [];
    }),
  );
}

/** Warnings and failures alone; within a group they keep their order, which is that of the report. */
function byGravity(keys: readonly KeyFinding[]): KeyFinding[] {
  return GRAVE.flatMap((verdict) => {
    const same = keys.filter(({ finding }) => finding.verdict === verdict);
    return [...same.filter(({ finding }) => isUrgent(finding)), ...same.filter(({ finding }) => !isUrgent(finding))];
  });
}

/** What these say was reckoned for an engine speed or boost that the log does not hold. */
const PROJECTIONS: readonly string[] = ['injector-duty.redline', 'injector-duty.next-step'];

export const isProjected = ({ id }: Pick<Finding, 'id'>): boolean => PROJECTIONS.includes(id);

/**
 * The finding that stands for an analyser: of those with its verdict, an urgent one before others, then the one furthest beyond its limit. Of
 * passing ones that nearest below its limit, and a projection only where nothing was measured.
 */
export function leadFinding(answer: AnalyserAnswer): Finding | undefined {
  const own = answer.findings.filter((finding) => finding.verdict === answer.verdict);
  if (answer.verdict !== 'pass') return foremost(own) ?? own[0];
  const measured = own.filter((finding) => !isProjected(finding));
  const known = measured.length > 0 ? measured : own;
  return foremost(known.filter((finding) => shareOfLimit(finding) < 1)) ?? known[0];
}

function foremost(findings: readonly Finding[]): Finding | undefined {
  return findings.toSorted((a, b) => Number(isUrgent(b)) - Number(isUrgent(a)) || shareOfLimit(b) - shareOfLimit(a))[0];
}

function shareOfLimit({ measured, limit }: Finding): number {
  const limitValue = limit?.fail ?? limit?.warn;
  return measured && limitValue ? Math.abs(measured.value / limitValue) : 0;
}
