import { describe, expect, it } from 'vitest';
import { FORMATS } from '../../src/render/formats.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { sampleCorrections } from '../support/sample-corrections.ts';
import { sampleReport } from '../support/sample-report.ts';

/** Enough to tell inputs apart where a line of text has no room for the whole. */
const LEAST = 12;
const SHORTENED = ['terminal'];

describe('the hashes of log, mapping and build sheet, by which a report can be made again', () => {
  it.each(FORMATS.map((format) => [format.id, format] as const))('%s states them', async (id, format) => {
    for (const several of [false, true]) {
      const renderer = await format.open({ width: 100, colour: 0, failOn: 'fail', quiet: false, several });
      const outcomes: Outcome[] = [{ report: { ...sampleReport(), corrections: sampleCorrections() } }];
      const text = outcomes.map(renderer.each).join('') + renderer.end(summarise(outcomes));
      const { log, mapping, build } = sampleReport();
      expect(new Set([log.sha256, mapping.sha256, build.sha256]).size).toBe(3);
      for (const { sha256 } of [log, mapping, build]) {
        expect(text).toContain(SHORTENED.includes(id) ? sha256.slice(0, LEAST) : sha256);
      }
    }
  });
});
