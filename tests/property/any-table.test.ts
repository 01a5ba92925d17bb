import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnsWanted } from '../../src/channels/columns-wanted.ts';
import { normalise } from '../../src/channels/normalise.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import type { Recording } from '../../src/channels/recording.ts';
import { readTable } from '../../src/read/read-table.ts';
import { pieces } from '../read/read-text.ts';
import { AIR_PRESSURE_KPA, type AnyTable, anyTable, quantisation } from '../support/any-table.ts';
import { runs } from '../support/property-runs.ts';
import { anyStyle, OWN_TIME_PHASE_S, type Style, writeTable } from '../support/write-table.ts';

/** The public way from bytes and a mapping's text to a recording. */
function readBack(bytes: Buffer, mappingText: string): Recording {
  const mapping = parseMapping(mappingText, 'any.map.json');
  const table = readTable(
    { chunks: pieces(bytes, 997), name: 'any.csv' },
    {
      keep: columnsWanted(mapping),
      dialect: mapping.dialect,
      missing: mapping.missing,
      timeByRow: 'rate' in mapping.time,
    },
  );
  return normalise(table, mapping, { barometricKpa: AIR_PRESSURE_KPA });
}

const TIME_TOLERANCE_S = 1e-6;

function expectSame(recording: Recording, table: AnyTable, style: Style): void {
  expect([...recording.channels.keys()].sort()).toEqual(table.channels.map(({ id }) => id).sort());
  for (const [i, written] of table.channels.entries()) {
    const channel = recording.channels.get(written.id);
    if (!channel) throw new Error(`no ${written.id}`);
    const phaseS = style.layout === 'own time' ? i * OWN_TIME_PHASE_S : 0;
    const tolerance = quantisation(written);
    const seen = new Set<number>();
    for (let k = 0; k < channel.time.length; k++) {
      const row = Math.floor((channel.time[k] - phaseS) * table.rateHz + 1e-3);
      const truth = written.values[row];
      if (truth === undefined || Math.abs(channel.values[k] - truth) > tolerance) {
        throw new Error(`${written.id} is ${channel.values[k]} at ${channel.time[k]} s, not ${truth}`);
      }
      if (Math.abs(channel.time[k] - phaseS - row / table.rateHz) <= TIME_TOLERANCE_S) seen.add(row);
    }
    const updates = written.values.flatMap((value, row) => (value === undefined ? [] : [row]));
    expect([...seen]).toEqual(updates);
    if (style.layout !== 'held') expect(channel.time).toHaveLength(updates.length);
  }
}

const hasBlanks = ({ channels }: AnyTable) => channels.some(({ values }) => values.includes(undefined));

describe('any table, written in any way', () => {
  it('reads back to the same recording within quantisation', () => {
    fc.assert(
      fc.property(anyTable, anyStyle, (table, style) => {
        // A blank line of a log of one column is no row.
        fc.pre(style.layout !== 'rate' || table.channels.length > 1 || !hasBlanks(table));
        const { bytes, mapping } = writeTable(table, style);
        expectSame(readBack(bytes, JSON.stringify(mapping)), table, style);
      }),
      { numRuns: runs(150) },
    );
  }, 120_000);
});
