import { describe, expect, it } from 'vitest';
import { FORMATS } from '../../src/render/formats.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { HOSTILE_TEXTS, hostileReport } from '../support/hostile-report.ts';
import { sampleCorrections } from '../support/sample-corrections.ts';

/** Control characters beyond line ends, and marks that turn or hide text (Unicode categories Cc, Cf, Zl, Zp). */
const UNSEEN = /(?![\n\r])[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu;
/** JSON escapes control characters and must give back every other one as it was. */
const FOR_PEOPLE = FORMATS.filter(({ id }) => !['json', 'ndjson'].includes(id));
const runs = FOR_PEOPLE.flatMap((format) => HOSTILE_TEXTS.map((text) => [format.id, text, format] as const));

describe('reports of logs with hostile words', () => {
  it.each(runs)('%s holds no control byte and no hidden mark: %j', async (_id, hostile, format) => {
    for (const several of [false, true]) {
      const renderer = await format.open({ width: 80, colour: 0, failOn: 'fail', quiet: false, several });
      const report = { ...hostileReport(hostile), corrections: sampleCorrections(hostile) };
      const outcomes: Outcome[] = [{ report }, { unusable: { file: hostile, error: hostile } }];
      const text = outcomes.map(renderer.each).join('') + renderer.end(summarise(outcomes));
      expect(text.length).toBeGreaterThan(200);
      expect(text.match(UNSEEN) ?? []).toEqual([]);
    }
  });
});
