import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { UserError } from '../../src/kernel/user-error.ts';
import type { ReadOptions } from '../../src/read/read-options.ts';
import { readText } from '../read/read-text.ts';

/** Reads; only a UserError with a place and a way to mend it may be thrown. */
function readOrRefuse(bytes: Uint8Array, options: ReadOptions = {}): void {
  try {
    const table = readText(bytes, options, 64, { head: 200, block: 50 });
    expect(table.bytes).toBe(bytes.length);
    for (const column of table.columns) {
      expect(column.values).toHaveLength(table.rowCount);
      if (column.codes) expect(column.codes).toHaveLength(table.rowCount);
      for (const value of column.values) expect(Number.isFinite(value) || Number.isNaN(value)).toBe(true);
    }
    expect(new Set(table.columns.map((column) => column.name)).size).toBe(table.columns.length);
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    expect(error.where).toMatch(/^log\.csv(, line \d+)?$/);
    expect(error.mend).toMatch(/\.$/);
    expect(error.what).not.toMatch(/undefined|NaN/);
  }
}

const GOOD =
  'Car: demo\n\nTime,RPM,"Note, long"\ns,rpm,\n0.00,850,idle\n0.05,860,"a ""b"""\n0.10,870,\n# c\n0.15,880,x\n';

const snippet = fc.constantFrom(
  '"',
  ',',
  ';',
  '\t',
  '\n',
  '\r',
  '\0',
  '#',
  ' ',
  '""',
  '","',
  '\ufeff',
  'NaN',
  '-',
  '1e999',
  '__proto__',
  '\u001b[2J',
  '\xff',
  '9'.repeat(400),
);

const overrides = fc.record(
  {
    delimiter: fc.constantFrom(',', ';', '"', '', 'ab', ' ', '\n', '.'),
    quoteChar: fc.constantFrom('"', "'", '', 'xx', ','),
    decimalChar: fc.constantFrom('.' as const, ',' as const),
    encoding: fc.constantFrom('utf-8', 'utf-16le', 'latin1', 'nonsense'),
    commentPrefix: fc.constantFrom('#', '//', '', '"', '0'),
    skipRows: fc.constantFrom(0, 1, 3, 100, -1),
    headerRowCount: fc.constantFrom(0, 1, 2, 3, 50),
  },
  { requiredKeys: [] },
);

describe('hostile input never gives anything but a table or a UserError', () => {
  test('arbitrary bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => readOrRefuse(bytes)),
      { numRuns: 500 },
    );
  }, 30_000);

  test('arbitrary text', () => {
    const unit = fc.oneof(snippet, fc.constantFrom('a', '1', '.', 'é'));
    fc.assert(
      fc.property(fc.string({ unit, maxLength: 120 }), (text) => readOrRefuse(Buffer.from(text))),
      { numRuns: 500 },
    );
  }, 30_000);

  test('a good log with pieces put in, cut out, or cut off, under any dialect', () => {
    fc.assert(
      fc.property(
        fc.nat(GOOD.length),
        fc.nat(8),
        fc.option(snippet, { nil: '' }),
        fc.boolean(),
        overrides,
        (at, cut, put, off, dialect) => {
          const text = GOOD.slice(0, at) + put + (off ? '' : GOOD.slice(at + cut));
          readOrRefuse(Buffer.from(text, 'latin1'), { dialect });
        },
      ),
      { numRuns: 600 },
    );
  }, 30_000);
});
