import { describe, expect, it } from 'vitest';
import { UserError } from '../../src/kernel/user-error.ts';
import type { ReadOptions } from '../../src/read/read-options.ts';
import { readTable } from '../../src/read/read-table.ts';

const CHUNK_BYTES = 1 << 18;
const MB = 1024 * 1024;

/** Chunks made as they are asked for, and how many bytes were. */
function endless(start: string, filler: string, bytes: number) {
  const asked = { bytes: 0 };
  const chunk = Buffer.alloc(CHUNK_BYTES, filler, 'latin1');
  function* chunks(): Generator<Uint8Array> {
    yield Buffer.from(start, 'latin1');
    while (asked.bytes < bytes) {
      asked.bytes += chunk.length;
      yield chunk;
    }
  }
  return { asked, chunks: chunks() };
}

function refusal(chunks: Iterable<Uint8Array>, options: ReadOptions = {}): UserError {
  try {
    readTable({ chunks, name: 'log.csv' }, options);
  } catch (error) {
    if (error instanceof UserError) return error;
    throw error;
  }
  throw new Error('the log was read');
}

const GB = 1024 * MB;

describe('input without an end is refused early', () => {
  it.each([
    ['one line of numbers', '', '1,2,', /longer than 16 MiB/],
    ['one line of letters', '', 'x', /longer than 16 MiB/],
    ['a line without an end in the middle', 't,x\n0,1\n0.1,2\n', '3', /longer than 16 MiB/],
    ['a quote that never closes', 't,x\n0,1\n0.1,2\n0.2,"', 'x\n', /never closed/],
  ])(
    '2 GB: %s',
    (_what, start, filler, told) => {
      const before = process.memoryUsage().arrayBuffers;
      const { asked, chunks } = endless(start, filler, 2 * GB);
      expect(refusal(chunks).what).toMatch(told);
      expect(asked.bytes).toBeLessThan(64 * MB);
      expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(256 * MB);
    },
    30_000,
  );

  it.each(['1', 'abc', '"q"', ''])(
    'a million columns of %s',
    (cell) => {
      const row = `${Array.from({ length: 1_000_000 }, () => cell).join(',')}\n`;
      const header = `${Array.from({ length: 1_000_000 }, (_, i) => `c${i}`).join(',')}\n`;
      const bytes = Buffer.from(header + row + row);
      expect(refusal([bytes]).what).toMatch(/the header has 1000000 columns, more than the 10000/);
    },
    60_000,
  );

  it('a million cells in one row of a log of two columns are left out, and told', () => {
    const row = Array.from({ length: 1_000_000 }, () => '3').join(',');
    const table = readTable({ chunks: [Buffer.from(`t,x\n0,1\n0.1,2\n0.2,3\n${row}\n`)], name: 'log.csv' }, {});
    expect(table.rowCount).toBe(4);
    expect(table.notes).toEqual([expect.stringMatching(/^1 row \(line 5\) with more cells/)]);
  }, 30_000);

  it('many columns with short rows take room for what is there, not for what could be', () => {
    const header = Array.from({ length: 9_999 }, (_, i) => `c${i}`).join(',');
    const text = `${header}\n${Array.from({ length: 500 }, (_, i) => `${i},${i}\n`).join('')}`;
    const before = process.memoryUsage().arrayBuffers;
    const table = readTable({ chunks: [Buffer.from(text)], name: 'log.csv' }, {});
    expect(table.rowCount).toBe(500);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(256 * MB);
  });

  it('a cell of ten megabytes is cut, and a thousand different ones do not fill the memory', () => {
    const long = 'x'.repeat(100_000);
    const rows = Array.from({ length: 60 }, (_, i) => `${i},${i}${long}`);
    const table = readTable({ chunks: [Buffer.from(`t,note\n${rows.join('\n')}\n`)], name: 'log.csv' }, {});
    const note = table.columns[1];
    expect(note.labels).toHaveLength(60);
    expect(Math.max(...note.labels.map((label) => label.length))).toBe(200);
  });
});
