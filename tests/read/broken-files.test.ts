import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { UserError } from '../../src/kernel/user-error.ts';
import { readTable } from '../../src/read/read-table.ts';
import { valuesOf } from './read-text.ts';

const FOLDER = new URL('../../fixtures/broken/', import.meta.url);

function read(file: string) {
  return readTable({ chunks: [readFileSync(new URL(file, FOLDER))], name: file }, {});
}

/** file, where, words of the message, words of the way to mend it */
const REFUSED: [string, string, RegExp, RegExp][] = [
  ['empty.csv', 'empty.csv', /the file is empty/, /logger had stopped/],
  ['blank-lines.csv', 'blank-lines.csv', /only blank lines/, /was recording/],
  ['png-picture.csv', 'png-picture.csv', /a PNG picture, not a text file/, /Export the log as CSV/],
  ['workbook.csv', 'workbook.csv', /a zip archive or an Excel workbook/, /Export the log as CSV/],
  ['binary-records.csv', 'binary-records.csv', /binary data, not a text file/, /Export the log as CSV/],
  ['nul-bytes-only.csv', 'nul-bytes-only.csv', /zero bytes only/, /Export the log as CSV/],
  ['header-only.csv', 'header-only.csv, line 1', /a header but no data row/, /copied whole/],
  ['single-column.csv', 'single-column.csv', /tried tab, semicolon, comma, pipe, aligned spaces/, /dialect\.delimiter/],
  ['unterminated-quote.csv', 'unterminated-quote.csv, line 3', /never closed/, /Close the quote/],
  ['text-behind-quote.csv', 'text-behind-quote.csv, line 3', /text behind its closing quote/, /written twice/],
  ['no-numbers.csv', 'no-numbers.csv', /no cell of the file reads as a number/, /dialect\.decimalChar/],
  ['html-page.csv', 'html-page.csv', /a web page or another marked-up text/, /Export the log as CSV/],
  ['no-header.csv', 'no-header.csv, line 1', /no row of column names/, /dialect\.skipRows/],
  [
    'unquoted-decimal-commas.csv',
    'unquoted-decimal-commas.csv, line 2',
    /more cells than the header/,
    /Decimal commas/,
  ],
  ['second-header.csv', 'second-header.csv, line 6', /a second header with other columns/, /split it/],
];

/** file, rows, note */
const NOTED: [string, number, RegExp][] = [
  ['short-rows.csv', 5, /^2 rows \(the first at line 3\) with fewer cells/],
  ['long-row.csv', 4, /^1 row \(line 4\) with more cells/],
  ['merge-marks.csv', 8, /^3 rows \(the first at line 3\) with fewer cells/],
  ['cut-off.csv', 4, /^The last line \(6\) is cut off after 2 of 3 cells/],
  ['repeated-header.csv', 6, /repeated in 1 row \(line 5\)/],
  ['trailing-delimiter.csv', 4, /ends with a delimiter/],
  ['nul-tail.csv', 4, /^256 NUL bytes/],
  ['windows-1252.csv', 4, /read as Windows-1252/],
  ['duplicate-names.csv', 4, /renamed: "RPM \(2\)"/],
];

describe('broken logs', () => {
  test.each(REFUSED)('%s is refused in one clear message', (file, where, what, mend) => {
    let error: unknown;
    try {
      read(file);
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(UserError);
    const message = error as UserError;
    expect(message.where).toBe(where);
    expect(message.what).toMatch(what);
    expect(message.mend).toMatch(mend);
  });

  test.each(NOTED)('%s is read, with a note', (file, rows, note) => {
    const table = read(file);
    expect(table.rowCount).toBe(rows);
    expect(table.notes).toHaveLength(1);
    expect(table.notes[0]).toMatch(note);
    expect(valuesOf(table, 'Time')[0]).toBe(0);
  });

  test('every file of the folder is listed in its README and checked here', () => {
    const files = readdirSync(FOLDER).filter((file) => file.endsWith('.csv'));
    const checked = [...REFUSED.map(([file]) => file), ...NOTED.map(([file]) => file)];
    expect(checked.sort()).toEqual(files.sort());
    const readme = readFileSync(new URL('README.md', FOLDER), 'utf8');
    expect([...readme.matchAll(/^- `(.+?)`/gm)].map((found) => found[1]).sort()).toEqual(files.sort());
  });

  test('the number at the cut is never believed', () => {
    const table = read('cut-off.csv');
    expect(valuesOf(table, 'RPM')).toEqual([850, 851, 852, 853]);
  });
});
