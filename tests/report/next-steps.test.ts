import { describe, expect, it } from 'vitest';
import type { Finding, Verdict } from '../../src/analysers/finding.ts';
import { nextSteps } from '../../src/report/next-steps.ts';
import type { AnalyserAnswer } from '../../src/report/report-schema.ts';

const finding = (id: string, verdict: Verdict, next: string[]): Finding => ({
  id,
  verdict,
  title: id,
  reasoning: [],
  where: [],
  causes: [],
  next,
});
const answerOf = (verdict: Verdict, ...findings: Finding[]): AnalyserAnswer => ({
  id: findings[0].id,
  title: findings[0].id,
  verdict,
  summary: '',
  findings,
  needs: [],
});

describe('next steps', () => {
  it('give every grave finding its first step before any its second, each step once', () => {
    const analysers = [
      answerOf('fail', finding('a', 'fail', ['a 1', 'a 2', 'a 3'])),
      answerOf('fail', finding('b', 'fail', ['b 1', 'a 2'])),
      answerOf('warn', finding('c', 'warn', ['a 1', 'c 2', 'c 3'])),
      answerOf('pass', finding('d', 'pass', ['never'])),
      answerOf('not-assessed', finding('e', 'not-assessed', ['log e'])),
    ];
    expect(nextSteps({ analysers })).toEqual(['a 1', 'b 1', 'c 2', 'a 2', 'c 3', 'a 3', 'log e']);
  });

  it('tell once what forbids another pull, first of all, and until when', () => {
    const until = (what: string) => `No further full-load pull until ${what}.`;
    const analysers = [
      answerOf('fail', finding('trim', 'fail', ['look'])),
      answerOf('fail', finding('mixture.lean-error', 'fail', [until('the mixture is right'), 'check the exhaust'])),
      answerOf('fail', finding('fuel-pressure.drop', 'fail', [until('fuel pressure holds'), 'check the hose'])),
      answerOf('warn', finding('sensor', 'warn', [until('the mixture is known'), 'check the sensor'])),
    ];
    expect(nextSteps({ analysers })).toEqual([
      'No further full-load pull until the mixture is right and fuel pressure holds.',
      'check the exhaust',
      'check the hose',
      'look',
      'check the sensor',
    ]);
  });

  it('count a required question that stayed open among what is grave', () => {
    const open = ['read the codes'];
    const analysers = [
      answerOf('warn', finding('a', 'warn', ['a 1', 'a 2'])),
      answerOf('not-assessed', finding('codes', 'not-assessed', open)),
    ];
    const requiredOpen = [{ id: 'codes', title: 'Codes', why: 'Nobody read them.', next: open }];
    expect(nextSteps({ analysers })).toEqual(['a 1', 'a 2', 'read the codes']);
    expect(nextSteps({ analysers, requiredOpen })).toEqual(['a 1', 'read the codes', 'a 2']);
  });
});
