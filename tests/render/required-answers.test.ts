import { describe, expect, it } from 'vitest';
import { FORMATS } from '../../src/render/formats.ts';
import { gateReason } from '../../src/render/gate-words.ts';
import type { Report } from '../../src/report/report-schema.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { sampleReport } from '../support/sample-report.ts';

const whole = sampleReport();
const report = sampleReport({
  gate: 'warn',
  analysers: whole.analysers.filter(({ verdict }) => verdict !== 'fail'),
  requiredOpen: [
    {
      id: 'timing-pull',
      title: 'Timing pull',
      why: 'Neither knock retard nor spark advance with its target is logged.',
      next: ['Log knock_retard by cylinder.'],
    },
  ],
  handback: [],
});

describe('a required answer that is missing', () => {
  it('is the reason of the gate, with why', () => {
    const told =
      'a required answer is missing. Timing pull: Neither knock retard nor spark advance with its target is logged.';
    expect(gateReason(report, true)).toBe(`Nothing fails, but ${told}`);
    const warning: Report = { ...report, analysers: [{ ...whole.analysers[0], verdict: 'warn' }, ...report.analysers] };
    expect(gateReason(warning, true)).toMatch(/^Nothing fails, but there are warnings\. A required answer is missing/);
    expect(gateReason({ ...warning, gate: 'fail' }, false)).toMatch(/^At least one answer fails\. A required answer/);
    const undone = { ...report, handback: [{ item: 'Road test', done: false }] };
    expect(gateReason(undone, true)).toMatch(/is logged\. 1 handback item is not done\.$/);
  });

  it.each(['terminal', 'markdown', 'html'])('%s lists it under why, and its step under what next', async (id) => {
    const format = FORMATS.find((one) => one.id === id);
    const outcomes: Outcome[] = [{ report }];
    const renderer = await format?.open({ width: 100, colour: 0, failOn: 'fail', quiet: false, several: false });
    const text = `${renderer?.each(outcomes[0])}${renderer?.end(summarise(outcomes))}`;
    const plain = text.replaceAll('\\', '').replaceAll('<', '\n<');
    const at = (pattern: RegExp) => plain.search(pattern);
    const why = at(/Timing pull: required by the build sheet, and not answered/);
    expect(why).toBeGreaterThan(0);
    const next = at(/Log knock_retard by cylinder/);
    expect(next).toBeGreaterThan(why);
    expect(next).toBeLessThan(at(/(ANSWERS|## Answers|Every question of this run)/));
  });
});
