import fc from 'fast-check';
import { expect, test } from 'vitest';
import { runsWhere } from '../../src/signal/runs.ts';

test('the runs cover exactly the indexes that answer, and never touch', () => {
  fc.assert(
    fc.property(fc.array(fc.boolean(), { maxLength: 50 }), (flags) => {
      const runs = runsWhere(flags.length, (i) => flags[i]);
      const covered = flags.map((_, i) => runs.some((run) => i >= run.start && i < run.end));
      expect(covered).toEqual(flags);
      for (let k = 1; k < runs.length; k++) expect(runs[k].start).toBeGreaterThan(runs[k - 1].end);
    }),
    { numRuns: 100 },
  );
});
