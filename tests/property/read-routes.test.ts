import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { papaparseRows } from '../../src/read/papaparse-rows.ts';
import { contentOf, labelsOf, readText } from '../read/read-text.ts';

/** Numbers as loggers write them, and as they should not. */
const numberText = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
  fc.integer({ min: -100_000, max: 100_000 }).map(String),
  fc
    .tuple(fc.integer({ min: -9999, max: 9999 }), fc.integer({ min: 0, max: 6 }))
    .map(([n, d]) => (n / 10 ** d).toFixed(d)),
  fc.stringMatching(/^[-+]?[0-9]{0,20}\.?[0-9]{1,26}$/),
  fc.stringMatching(/^[-+]?[0-9]{1,4}(\.[0-9]{0,3})?[eE][-+]?[0-9]{1,2}$/),
  fc.constantFrom('-0', '+0', '0.1', '9007199254740993', '.5', '5.', '0.30000000000000004', '4.35', '1.005'),
);

const oddText = fc.constantFrom(
  '',
  ' ',
  'ERR',
  'NaN',
  '--',
  '1.2.3',
  '0x1F',
  'Infinity',
  '1_0',
  '-',
  'é',
  '12 psi',
  '1 2',
  '#1',
);

const dialects = fc.record({
  delimiter: fc.constantFrom(',', ';', '\t', '|'),
  decimalChar: fc.constantFrom('.' as const, ',' as const),
  newline: fc.constantFrom('\n', '\r\n', '\r'),
  padding: fc.constantFrom('', ' '),
});

const tables = fc.integer({ min: 2, max: 5 }).chain((width) =>
  fc.record({
    dialect: dialects,
    rows: fc.array(
      fc.array(fc.oneof({ weight: 8, arbitrary: numberText }, { weight: 1, arbitrary: oddText }), {
        minLength: width,
        maxLength: width,
      }),
      { minLength: 3, maxLength: 12 },
    ),
    width: fc.constant(width),
  }),
);

type Generated = typeof tables extends fc.Arbitrary<infer T> ? T : never;

function write({ dialect, rows, width }: Generated, quoted: boolean): string {
  const { delimiter, decimalChar, newline, padding } = dialect;
  const cell = (text: string) => {
    const local = decimalChar === ',' ? text.replace('.', ',') : text;
    return quoted || local.includes(delimiter) ? `"${local}"` : local + padding;
  };
  const header = Array.from({ length: width }, (_, i) => `name ${i}`);
  // Two rows that leave no doubt about the dialect.
  const first = header.map((_, i) => (i === 0 ? '0.5' : String(i)));
  const timed = rows.map((row, i) => [String(i), ...row.slice(1)]);
  const all = [first, first, ...timed].map((row) => row.map(cell).join(delimiter));
  return [header.join(delimiter), ...all, ''].join(newline);
}

const PLAIN = /^[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?$/;

/** What each cell should be: tokenised by papaparse in one go, made a number by Number. */
function oracle(text: string, { dialect, width }: Generated): number[][] {
  const { data } = Papa.parse<string[]>(text, { delimiter: dialect.delimiter, newline: dialect.newline as '\n' });
  const rows = data.slice(1).filter((row) => row.some((cell) => cell.trim() !== ''));
  return Array.from({ length: width }, (_, i) =>
    rows.map((row) => {
      const cell = row[i].trim();
      const local = dialect.decimalChar === ',' ? cell.replace('.', '?').replace(',', '.') : cell;
      const value = PLAIN.test(local) ? Number(local) : Number.NaN;
      return Number.isFinite(value) ? value : Number.NaN;
    }),
  );
}

describe('reading', () => {
  test('gives every number bit for bit as papaparse and Number do, by either route, in every dialect', () => {
    fc.assert(
      fc.property(tables, (generated) => {
        const { delimiter, decimalChar } = generated.dialect;
        for (const quoted of [false, true]) {
          const text = write(generated, quoted);
          const table = readText(text, { dialect: { delimiter, decimalChar, commentPrefix: '' } });
          const expected = oracle(text, generated);
          for (const [i, column] of table.columns.entries()) {
            if (column.kind === 'text' || column.unitText !== undefined) continue;
            const wrong = expected[i].findIndex((value, row) => !Object.is(value, column.values[row]));
            if (wrong >= 0) throw new Error(`row ${wrong} of ${column.name} in ${JSON.stringify(text)}`);
            expect(column.values).toHaveLength(expected[i].length);
          }
        }
      }),
      { numRuns: 200 },
    );
  }, 30_000);

  test('gives the same table from quoted and from plain cells, and from chunks and blocks of any size', () => {
    fc.assert(
      fc.property(
        tables,
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 1, max: 60 }),
        (generated, chunk, block) => {
          const { delimiter, decimalChar } = generated.dialect;
          const options = { dialect: { delimiter, decimalChar, commentPrefix: '' } };
          const plain = write(generated, false);
          const whole = contentOf(readText(plain, options));
          expect(contentOf(readText(write(generated, true), options))).toEqual(whole);
          const sizes = { head: plain.length + 1, block };
          expect(contentOf(readText(plain, options, chunk, sizes))).toEqual(whole);
        },
      ),
      { numRuns: 100 },
    );
  }, 30_000);

  test('finds out the dialect that the table was written in', () => {
    fc.assert(
      fc.property(tables, (generated) => {
        const plain = write(
          { ...generated, rows: generated.rows.map((row) => row.map((_, i) => (i + 0.25).toString())) },
          false,
        );
        const { dialect } = readText(plain);
        expect(dialect.delimiter).toBe(generated.dialect.delimiter);
        expect(dialect.decimalChar).toBe(generated.dialect.decimalChar);
        expect(dialect.skipRows).toBe(0);
      }),
      { numRuns: 100 },
    );
  }, 30_000);
});

describe('tokenising', () => {
  const field = fc.string({ unit: fc.constantFrom('a', 'b', ' ', ',', '"', '\n', '\r\n', 'é', '1'), maxLength: 8 });
  const records = fc
    .integer({ min: 1, max: 4 })
    .chain((width) =>
      fc.array(fc.array(field, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 8 }),
    );
  const quote = (text: string) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

  test('agrees with csv-parse on every file that follows RFC 4180', () => {
    fc.assert(
      fc.property(records, (rows) => {
        const text = `${rows.map((row) => row.map(quote).join(',')).join('\n')}\n`;
        const ours = papaparseRows(text, { delimiter: ',', quoteChar: '"', newline: '\n', spaced: false }, true);
        const theirs: string[][] = parse(text, { record_delimiter: '\n', skip_empty_lines: false });
        expect(ours.fault).toBeUndefined();
        expect(ours.rows).toEqual(theirs);
        expect(ours.rows).toEqual(rows);
      }),
      { numRuns: 300 },
    );
  }, 30_000);

  test('texts come through a whole table as csv-parse has them', () => {
    fc.assert(
      fc.property(fc.array(field, { minLength: 1, maxLength: 10 }), fc.integer({ min: 1, max: 40 }), (texts, chunk) => {
        const text = `t,note\n${texts.map((note, i) => `${i},${quote(note)}`).join('\n')}\n`;
        const theirs: string[][] = parse(text, { record_delimiter: '\n', from: 2 });
        const table = readText(text, { dialect: { decimalChar: '.' } }, chunk);
        const seen = labelsOf(table, 'note').map((label, row) => label ?? String(table.columns[1].values[row]));
        const blank = (note: string) => (note.trim() === '' ? 'NaN' : note.trim());
        const isNumber = table.columns[1].kind === 'number';
        const wanted = theirs.map(([, note]) =>
          isNumber && PLAIN.test(note.trim()) ? String(Number(note)) : blank(note),
        );
        if (table.columns[1].unitText === undefined) expect(seen).toEqual(wanted);
      }),
      { numRuns: 200 },
    );
  }, 30_000);
});
