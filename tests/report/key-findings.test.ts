import { describe, expect, it } from 'vitest';
import type { Finding, Verdict } from '../../src/analysers/finding.ts';
import { measuredCell } from '../../src/render/terminal/words.ts';
import { decidingFindings, graveFindings, isProjected, leadFinding } from '../../src/report/key-findings.ts';
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

describe('what can wreck the engine in one pull', () => {
  const several = {
    analysers: [
      answerOf('fuel-trim', 'fail', [finding('fuel-trim.level', 'fail', 17)]),
      answerOf('injector-duty', 'fail', [finding('injector-duty.peak', 'fail', 99)]),
      answerOf('boost-creep', 'warn', [finding('boost-creep.rise', 'warn', 8)]),
      answerOf('timing-pull', 'warn', [finding('timing-pull.peak', 'warn', 6)]),
      answerOf('mixture', 'fail', [
        finding('mixture.agreement', 'warn', 30),
        finding('mixture.lean-error', 'fail', 11),
      ]),
    ],
  };

  it('is told before the rest of its verdict, each in the order of the report', () => {
    const order = [
      'injector-duty.peak',
      'mixture.lean-error',
      'fuel-trim.level',
      'timing-pull.peak',
      'boost-creep.rise',
    ];
    expect(ids(decidingFindings(several))).toEqual(order);
    expect(ids(graveFindings(several))).toEqual([...order, 'mixture.agreement']);
  });

  it('stands for its analyser before what is further beyond a lesser limit', () => {
    const boost = answerOf('boost-overshoot', 'fail', [
      finding('boost-overshoot.excess', 'fail', 35),
      finding('boost-overshoot.ceiling', 'fail', 10.5),
    ]);
    expect(leadFinding(boost)?.id).toBe('boost-overshoot.ceiling');
  });
});

describe('a projection', () => {
  const peak = finding('injector-duty.peak', 'pass', 5.7);

  it('never stands for a passing analyser whose measure is there', () => {
    const duty = answerOf('injector-duty', 'pass', [finding('injector-duty.next-step', 'pass', 7), peak]);
    expect(leadFinding(duty)?.id).toBe('injector-duty.peak');
    expect(isProjected(peak)).toBe(false);
  });

  it('stands for the analyser that warns by it alone, and is told as what it is', () => {
    const redline = finding('injector-duty.redline', 'warn', 8.8);
    const lead = leadFinding(answerOf('injector-duty', 'warn', [peak, redline]));
    expect(lead?.id).toBe('injector-duty.redline');
    expect(measuredCell(lead)).toBe('8.8 % reckoned');
    expect(measuredCell(peak)).toBe('5.7 %');
  });
});
