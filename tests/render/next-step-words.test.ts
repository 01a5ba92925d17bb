import { describe, expect, it } from 'vitest';
import { FORMATS } from '../../src/render/formats.ts';
import type { NextStepReport } from '../../src/report/next-step-schema.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { sampleReport } from '../support/sample-report.ts';

const flat = (value: number) => ({ value, low: value - 1, high: value + 1 });
const limit = { value: 92, source: 'injector-duty.peak, common practice, no source' };
const nextStep: NextStepReport = {
  settledBoost: 80,
  boost: 300,
  from: 'build sheet',
  supportedBoost: 107,
  furthestBoost: 143,
  beyondData: true,
  hold: 'Not before what fails is mended and logged again: Injector duty. The figures are for planning.',
  summary: 'The next step of 300.0 kPa takes injector duty to the limit or past it.',
  projections: [
    {
      id: 'duty',
      title: 'Injector duty',
      unit: '%',
      now: flat(57),
      next: flat(115.2),
      limit,
      standing: 'at-or-above',
      allows: { boost: null, surely: null, beyond: 143 },
      reasoning: [],
    },
    {
      id: 'fuel-flow',
      title: 'Fuel flow',
      unit: 'cc/min',
      now: flat(1343),
      next: flat(2835),
      standing: 'no-limit',
      reasoning: [],
    },
    {
      id: 'peak-boost',
      title: 'Peak boost',
      unit: 'kPa',
      now: flat(81),
      next: flat(305),
      limit: { ...limit, value: 130 },
      standing: 'at-or-above',
      allows: { boost: 127.8, surely: 126 },
      reasoning: [],
    },
  ],
  open: [],
  reasoning: [],
};

const rendered = async (id: string, step: NextStepReport) => {
  const outcomes: Outcome[] = [{ report: sampleReport({ nextStep: step }) }];
  const format = FORMATS.find((one) => one.id === id);
  const renderer = await format?.open({ width: 100, colour: 0, failOn: 'fail', quiet: false, several: false });
  const text = `${renderer?.each(outcomes[0])}${renderer?.end(summarise(outcomes))}`;
  return text.replaceAll('\\', '').replace(/\s+/g, ' ');
};

describe.each(['terminal', 'markdown', 'html'])('the next step as %s', (id) => {
  it('says that a limit is met beyond where it was looked for, and never that it is not', async () => {
    const text = await rendered(id, nextStep);
    expect(text).toContain('beyond 143.0');
    expect(text).toContain('127.8');
    expect(text).toContain('Limit met at (kPa)');
    expect(text).toContain('2,835');
    expect(text).not.toMatch(/not (met|reached)/);
  });

  it('carries the reason to wait from the report, and none where there is none', async () => {
    expect(await rendered(id, nextStep)).toContain(nextStep.hold);
    const { hold, ...free } = nextStep;
    expect(await rendered(id, free)).not.toContain('Not before');
    expect(hold).toBeDefined();
  });
});
