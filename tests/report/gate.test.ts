import { describe, expect, it } from 'vitest';
import type { Verdict } from '../../src/analysers/finding.ts';
import { gateIsOpen, requiredButOpen, requiredOpen, rollUpGate, rollUpLogs } from '../../src/report/gate.ts';

const answers = (...verdicts: Verdict[]) => verdicts.map((verdict, i) => ({ id: `a${i}`, verdict }));

describe('the gate of one log', () => {
  it.each([
    [['pass', 'fail', 'warn'], 'fail'],
    [['pass', 'warn', 'not-assessed'], 'warn'],
    [['pass', 'not-assessed'], 'pass'],
    [['not-assessed', 'not-assessed'], 'not-assessed'],
    [[], 'not-assessed'],
  ] as const)('%j gives %s', (verdicts, gate) => {
    expect(rollUpGate(answers(...verdicts), [])).toBe(gate);
  });

  it('warns where a required analyser gave no answer', () => {
    expect(rollUpGate(answers('pass', 'not-assessed'), ['a1'])).toBe('warn');
    expect(rollUpGate(answers('pass', 'not-assessed'), ['a0'])).toBe('pass');
  });

  it('warns where a required analyser was left out', () => {
    expect(rollUpGate(answers('pass'), ['a0', 'a9'])).toBe('warn');
    expect(requiredButOpen(answers('pass'), ['a0', 'a9'])).toEqual(['a9']);
  });

  it('says of required questions without an answer why, and what would help', () => {
    const codes = {
      id: 'trouble-codes',
      title: 'Trouble codes',
      verdict: 'not-assessed' as const,
      summary: 'Nothing.',
      needs: [],
      findings: [
        {
          id: 'trouble-codes.unexplained',
          verdict: 'not-assessed' as const,
          title: 'Nobody read the fault memory',
          reasoning: ['No codes were handed over.'],
          where: [],
          causes: [],
          next: ['Read them.'],
        },
      ],
    };
    expect(requiredOpen([codes], ['trouble-codes', 'torque'])).toEqual([
      { id: 'trouble-codes', title: 'Trouble codes', why: 'No codes were handed over.', next: ['Read them.'] },
      { id: 'torque', title: 'torque', why: 'This run left it out.', next: [expect.stringMatching(/--only, --skip/)] },
    ]);
    expect(requiredOpen([{ ...codes, verdict: 'pass' }], ['trouble-codes'])).toEqual([]);
  });

  it('does not let a requirement soften a fail', () => {
    expect(rollUpGate(answers('fail', 'not-assessed'), ['a1'])).toBe('fail');
  });
});

describe('the gate of several logs', () => {
  it('is the worst of them', () => {
    expect(rollUpLogs(['pass', 'fail'], 0)).toBe('fail');
    expect(rollUpLogs(['pass', 'warn'], 0)).toBe('warn');
    expect(rollUpLogs(['pass', 'pass'], 0)).toBe('pass');
  });

  it('is no pass where a log gave nothing or could not be read', () => {
    expect(rollUpLogs(['pass', 'not-assessed'], 0)).toBe('warn');
    expect(rollUpLogs(['pass'], 1)).toBe('warn');
    expect(rollUpLogs([], 2)).toBe('not-assessed');
  });
});

describe('whether the gate is open', () => {
  it.each([
    ['pass', 'warn', true],
    ['warn', 'warn', false],
    ['warn', 'fail', true],
    ['fail', 'fail', false],
    ['fail', 'never', true],
    ['not-assessed', 'warn', false],
    ['not-assessed', 'never', false],
  ] as const)('%s under --fail-on %s: %s', (gate, failOn, open) => {
    expect(gateIsOpen(gate, failOn)).toBe(open);
  });
});
