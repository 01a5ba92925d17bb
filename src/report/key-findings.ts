import type { Finding, Verdict } from '../analysers/finding.ts';
import type { AnalyserAnswer, Report } from './report-schema.ts';

export interface KeyFinding {
  readonly answer: AnalyserAnswer;
  readonly finding: Finding;
}

const GRAVE: readonly Verdict[] = ['fail', 'warn'];

/** Findings that warn or fail: failures first, in each the one that decides its analyser before its lesser ones. */
export function graveFindings(report: Pick<Report, 'analysers'>): KeyFinding[] {
  const deciding = decidingFindings(report);
  const all = GRAVE.flatMap((verdict) =>
    report.analysers.flatMap((answer) =>
      answer.findings.filter((finding) => finding.verdict === verdict).map((finding) => ({ answer, finding })),
    ),
  );
  return [...deciding, ...all.filter(({ finding }) => !deciding.some((key) => key.finding === finding))];
}

/** The finding that decided each failing, then each warning analyser. */
export function decidingFindings(report: Pick<Report, 'analysers'>): KeyFinding[] {
  return GRAVE.flatMap((verdict) =>
    report.analysers.flatMap((answer) => {
      const finding = answer.verdict === verdict ? leadFinding(answer) : undefined;
      return finding ? [{ answer, finding }] : [];
    }),
  );
}

/** The finding that stands for an analyser: of those with its verdict, the one furthest beyond its limit; of passing ones, that nearest below. */
export function leadFinding(answer: AnalyserAnswer): Finding | undefined {
  const own = answer.findings.filter((finding) => finding.verdict === answer.verdict);
  const below = answer.verdict === 'pass' ? own.filter((finding) => shareOfLimit(finding) < 1) : own;
  return below.toSorted((a, b) => shareOfLimit(b) - shareOfLimit(a))[0] ?? own[0];
}

function shareOfLimit({ measured, limit }: Finding): number {
  const limitValue = limit?.fail ?? limit?.warn;
  return measured && limitValue ? Math.abs(measured.value / limitValue) : 0;
}

/** What to check or change next, the gravest matter first, each step once; last what would let an open question be answered. */
export function nextSteps(report: Pick<Report, 'analysers'>): string[] {
  const open = report.analysers.flatMap((answer) => answer.findings.filter((f) => f.verdict === 'not-assessed'));
  const findings = [...graveFindings(report).map((key) => key.finding), ...open];
  return [...new Set(findings.flatMap((finding) => finding.next))];
}
