import { describe, expect, it } from 'vitest';
import { ndjsonRenderer } from '../../src/render/ndjson.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { HOSTILE_TEXTS, hostileReport } from '../support/hostile-report.ts';
import { sampleReport } from '../support/sample-report.ts';

const unusable: Outcome = { unusable: { file: 'b.csv', error: 'Nothing in it.\nSecond line.' } };

describe('NDJSON', () => {
  it('is a line a log, in the order in which they end', () => {
    const renderer = ndjsonRenderer();
    const outcomes: Outcome[] = [{ report: sampleReport() }, unusable, { report: sampleReport({ gate: 'pass' }) }];
    const text = outcomes.map(renderer.each).join('') + renderer.end(summarise(outcomes));
    const lines = text.split('\n');
    expect(lines.pop()).toBe('');
    expect(lines.map((line) => JSON.parse(line))).toEqual([
      sampleReport(),
      { pullgate: 'unusable/1', file: 'b.csv', error: 'Nothing in it.\nSecond line.' },
      sampleReport({ gate: 'pass' }),
    ]);
  });

  it('gives every line at the end where no log was shown before', () => {
    const text = ndjsonRenderer().end(summarise([{ report: sampleReport() }, unusable]));
    expect(text.trimEnd().split('\n')).toHaveLength(2);
  });

  it.each(HOSTILE_TEXTS)('stays one line and the same text: %j', (hostile) => {
    const report = hostileReport(hostile);
    const line = ndjsonRenderer().each({ report });
    expect(line.trimEnd().split(/[\n\r\u2028\u2029]/)).toHaveLength(1);
    expect(JSON.parse(line)).toEqual(report);
  });
});
