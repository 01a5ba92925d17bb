import { describe, expect, it } from 'vitest';
import type { Analyser, AnalyserMeta, Assessment } from '../../src/analysers/analyser.ts';
import type { Finding } from '../../src/analysers/finding.ts';
import type { Drive } from '../../src/drive/drive.ts';
import { answer, hasCrash, unlessBroken } from '../../src/report/answer.ts';
import { aBuild } from '../support/build-sheet.ts';

const meta: AnalyserMeta = {
  id: 'made-up',
  title: 'Made up',
  question: 'Is it?',
  needs: [],
  helps: [],
  formula: 'none',
  physics: 'none',
  limits: [],
  cannotSee: [],
  cautions: [],
};
const context = { build: aBuild(), limits: new Map(), codes: [] };
const noDrive = {} as Drive;

const finding: Finding = {
  id: 'made-up.level',
  verdict: 'warn',
  title: 'Something',
  measured: { value: 12.3456789, unit: 'kPa', low: 0.000123456789, high: 1234567.89 },
  reasoning: [],
  where: [{ pull: 1, start: 1.23456, end: 2.00049, rpm: [2499.6, 6000.4] }],
  causes: [],
  next: [],
};

const giving = (given: Partial<Assessment>): Analyser => ({
  meta,
  assess: () => ({ summary: 'so', findings: [finding], needs: [], tables: [], ...given }),
});

describe('an answer', () => {
  it('carries the worst verdict of its findings', () => {
    const findings: Finding[] = [finding, { ...finding, verdict: 'fail' }, { ...finding, verdict: 'not-assessed' }];
    expect(answer(giving({ findings }), noDrive, context).verdict).toBe('fail');
    expect(answer(giving({ findings: [] }), noDrive, context).verdict).toBe('not-assessed');
  });

  it('rounds values to six digits, times to milliseconds and engine speed to whole rpm', () => {
    const [rounded] = answer(giving({}), noDrive, context).findings;
    expect(rounded.measured).toEqual({ value: 12.3457, unit: 'kPa', low: 0.000123457, high: 1234570 });
    expect(rounded.where).toEqual([{ pull: 1, start: 1.235, end: 2, rpm: [2500, 6000] }]);
  });

  it('leaves tables out where there are none, and makes null of table cells that are no number', () => {
    expect(answer(giving({}), noDrive, context)).not.toHaveProperty('tables');
    const table = { id: 't', title: 'T', columns: [{ name: 'a', unit: '%' }], rows: [[Number.NaN], [1 / 3], ['x']] };
    expect(answer(giving({ tables: [table] }), noDrive, context).tables?.[0].rows).toEqual([[null], [0.333333], ['x']]);
  });

  it('tells a fault inside the analyser as its finding, never as a pass', () => {
    const broken: Analyser = {
      meta,
      assess: () => {
        throw new TypeError('values is undefined');
      },
    };
    const told = answer(broken, noDrive, context);
    expect(told.verdict).toBe('not-assessed');
    expect(told.findings[0].id).toBe('made-up.crashed');
    expect(told.findings[0].reasoning[0]).toContain('TypeError: values is undefined');
    expect(told.findings[0].next[0]).toContain('--skip made-up');
    expect(hasCrash({ analysers: [told] })).toBe(true);
    expect(hasCrash({ analysers: [answer(giving({}), noDrive, context)] })).toBe(false);
  });

  it('takes a measured value that is no number for such a fault', () => {
    const noNumber = { ...finding, measured: { value: Number.NaN, unit: '%' } };
    expect(hasCrash({ analysers: [answer(giving({ findings: [noNumber] }), noDrive, context)] })).toBe(true);
  });
});

describe('a part beyond the answers', () => {
  it('that breaks down costs itself, is told, and the run must not end as if it had worked', () => {
    const faults: string[] = [];
    const broken = unlessBroken('next step', faults, () => {
      throw new TypeError('no such thing');
    });
    expect(broken).toBeUndefined();
    expect(faults).toEqual([
      'A fault in pullgate, not in the car or the log, stopped the part "next step" (TypeError: no such thing).',
    ]);
    expect(hasCrash({ analysers: [], faults })).toBe(true);
    expect(hasCrash({ analysers: [], faults: [] })).toBe(false);
  });

  it('that works gives what it computes', () => {
    const faults: string[] = [];
    expect(unlessBroken('causes', faults, () => 7)).toBe(7);
    expect(faults).toEqual([]);
  });
});
