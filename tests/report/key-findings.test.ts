import { describe, expect, it } from 'vitest';
import type { Finding, Verdict } from '../../src/analysers/finding.ts';
import { decidingFindings, graveFindings, leadFinding, nextSteps } from '../../src/report/key-findings.ts';
import type { AnalyserAnswer } from '../../src/report/report-schema.ts';

const finding = (id: string, verdict: Verdict, value: number, next: string[] = []): Finding => ({
  id,
  verdict,
  title: id,
  measured: { value, unit: '%' },
  limit: { warn: 5, fail: 10, unit: '%', source: 'made up' },
  reasoning: [],
  where: [],
  causes: [],
  next,
});

const answerOf = (id: string, verdict: Verdict, findings: Finding[]): AnalyserAnswer => ({
  id,
  title: id,
  verdict,
  summary: '',
  findings,
  needs: [],
});

const report = {
  analysers: [
    answerOf('a', 'warn', [finding('a.1', 'warn', 6, ['look at a']), finding('a.2', 'warn', -9, ['shared step'])]),
    answerOf('b', 'pass', [finding('b.1', 'pass', 1, ['never shown'])]),
    answerOf('c', 'fail', [finding('c.1', 'warn', 8), finding('c.2', 'fail', 11, ['mend c', 'shared step'])]),
    answerOf('d', 'not-assessed', [finding('d.1', 'not-assessed', 0, ['log d'])]),
  ],
};
const ids = (keys: { finding: Finding }[]) => keys.map((key) => key.finding.id);

describe('key findings', () => {
  it('decide by the worst verdict, then by the share of the limit, whatever the sign', () => {
    expect(ids(decidingFindings(report))).toEqual(['c.2', 'a.2']);
  });

  it('come before the lesser ones', () => {
    expect(ids(graveFindings(report))).toEqual(['c.2', 'a.2', 'a.1', 'c.1']);
  });

  it('stand for their analyser even where it passes', () => {
    expect(leadFinding(report.analysers[1])?.id).toBe('b.1');
    expect(leadFinding(answerOf('e', 'pass', []))).toBeUndefined();
  });

  it('stand for a passing analyser only where they lie below their limit', () => {
    const explained = answerOf('f', 'pass', [finding('f.explained', 'pass', 50), finding('f.level', 'pass', 2)]);
    expect(leadFinding(explained)?.id).toBe('f.level');
  });
});

describe('next steps', () => {
  it('follow gravity, each once, and end with what would close open questions', () => {
    expect(nextSteps(report)).toEqual(['mend c', 'shared step', 'look at a', 'log d']);
  });
});
