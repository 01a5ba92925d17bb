import { describe, expect, it } from 'vitest';
import { Report, Summary } from '../../src/report/report-schema.ts';
import { summarise } from '../../src/report/summarise.ts';
import { sampleReport } from '../support/sample-report.ts';

describe('the report schema', () => {
  it('takes a whole report and a summary', () => {
    const report = sampleReport();
    expect(Report.parse(report)).toEqual(report);
    const summary = summarise([{ report }, { unusable: { file: 'x.csv', error: 'the file is empty.' } }]);
    expect(Summary.parse(summary)).toEqual(summary);
    expect(summary.gate).toBe('fail');
  });

  it('refuses unknown keys, verdicts and versions', () => {
    expect(Report.safeParse({ ...sampleReport(), clock: 1 }).success).toBe(false);
    expect(Report.safeParse({ ...sampleReport(), gate: 'ok' }).success).toBe(false);
    expect(Report.safeParse({ ...sampleReport(), pullgate: 'report/2' }).success).toBe(false);
  });
});
