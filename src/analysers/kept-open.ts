import type { Finding } from './finding.ts';

/** Findings of an analyser whose deciding one is open: what else is in order may not turn the answer into a pass. */
export function keptOpen(decides: Finding, findings: readonly Finding[]): Finding[] {
  return decides.verdict === 'not-assessed'
    ? findings.map((finding) =>
        finding.verdict === 'pass' ? { ...finding, verdict: 'not-assessed' as const } : finding,
      )
    : [...findings];
}
