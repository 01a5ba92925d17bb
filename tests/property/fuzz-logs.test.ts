import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnsWanted } from '../../src/channels/columns-wanted.ts';
import { normalise } from '../../src/channels/normalise.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import type { Recording } from '../../src/channels/recording.ts';
import { UserError } from '../../src/kernel/user-error.ts';
import { readTable } from '../../src/read/read-table.ts';
import { draftLog } from '../../src/run/draft-log.ts';
import { surveyLog } from '../../src/run/survey-log.ts';
import { pieces } from '../read/read-text.ts';
import { anyDamage, damaged } from '../support/any-damage.ts';
import { anyTable } from '../support/any-table.ts';
import { onlyUserErrors } from '../support/only-user-errors.ts';
import { runs } from '../support/property-runs.ts';
import { anyStyle, writeTable } from '../support/write-table.ts';

const damagedLog = fc.tuple(anyTable, anyStyle, anyDamage).map(([table, style, damages]) => {
  const { bytes, mapping } = writeTable(table, style);
  return { bytes: damaged(bytes, damages), mapping: JSON.stringify(mapping) };
});

function expectSound(recording: Recording): void {
  for (const { time, values, coverage } of recording.channels.values()) {
    expect(values).toHaveLength(time.length);
    expect(coverage).toBeLessThanOrEqual(1);
    for (let i = 0; i < time.length; i++) {
      expect(Number.isFinite(values[i]) && Number.isFinite(time[i])).toBe(true);
      if (i > 0) expect(time[i]).toBeGreaterThan(time[i - 1]);
    }
  }
}

describe('a damaged log', () => {
  it('gives a sound recording or a refusal in words', () => {
    fc.assert(
      fc.property(damagedLog, ({ bytes, mapping: text }) => {
        const mapping = parseMapping(text, 'any.map.json');
        const recording = onlyUserErrors(() => {
          const table = readTable(
            { chunks: pieces(bytes, 997), name: 'any.csv' },
            {
              keep: columnsWanted(mapping),
              dialect: mapping.dialect,
              missing: mapping.missing,
              timeByRow: 'rate' in mapping.time,
            },
          );
          return normalise(table, mapping);
        });
        if (!(recording instanceof UserError)) expectSound(recording);
      }),
      { numRuns: runs(150) },
    );
  }, 120_000);

  it('can be surveyed and drafted, or is refused in words', () => {
    fc.assert(
      fc.property(damagedLog, ({ bytes, mapping }) => {
        const log = { name: 'any.csv', chunks: [bytes], version: '0' };
        onlyUserErrors(() => surveyLog(log));
        onlyUserErrors(() => surveyLog({ ...log, mapping: { name: 'any.map.json', text: mapping } }));
        onlyUserErrors(() => draftLog(log, { rateHz: 10 }));
      }),
      { numRuns: runs(40) },
    );
  }, 120_000);
});
