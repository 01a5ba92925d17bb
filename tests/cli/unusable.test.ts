import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { Summary } from '../../src/report/report-schema.ts';
import { parseStrictXml } from '../support/strict-xml.ts';
import { runHere } from './run-here.ts';
import { SHOP, workspace } from './workspace.ts';

vi.setConfig({ testTimeout: 60_000 });

const shop = workspace({ ...SHOP, 'empty.csv': '' });
afterAll(() => shop.remove());

const WHY = 'empty.csv: the file is empty.';
const check = (args: string) => runHere(['check', ...args.split(' ')], shop.path);
const text = (name: string) => readFileSync(join(shop.path, name), 'utf8');

/** What each format must say of a single log that is unusable. */
const SAYS: Readonly<Record<string, (text: string) => void>> = {
  json: (told) =>
    expect(Summary.parse(JSON.parse(told))).toMatchObject({
      gate: 'not-assessed',
      reports: [],
      unusable: [{ file: 'empty.csv', error: expect.stringContaining(WHY) }],
    }),
  ndjson: (told) =>
    expect(
      told
        .trimEnd()
        .split('\n')
        .map((line) => JSON.parse(line)),
    ).toMatchObject([{ pullgate: 'unusable/1', file: 'empty.csv', error: expect.stringContaining(WHY) }]),
  junit: (told) => {
    expect(() => parseStrictXml(told)).not.toThrow();
    expect(told).toMatch(/<testsuite [^>]*tests="1" failures="0" errors="1"/);
    expect(told).toContain(`<error type="unusable" message="${WHY}`);
  },
  markdown: (told) => expect(told).toMatch(/NOT READ.*empty\.csv.*the file is empty/s),
  csv: (told) => {
    const [head, row, ...more] = told.trimEnd().split('\r\n');
    expect([head.split(',').length, row.split(',').length, more.length]).toEqual([27, 27, 0]);
    expect(row).toMatch(/^empty\.csv,,,,,unusable,empty\.csv: the file is empty/);
  },
  html: (told) => expect(told).toMatch(/^<!doctype html>.*NOT READ.*the file is empty/is),
};

describe('a single log that is unusable', () => {
  it.each(Object.entries(SAYS))('is told by %s on standard output and in a file', async (format, says) => {
    const printed = await check(`empty.csv -f ${format}`);
    expect(printed.status).toBe(2);
    expect(printed.stderr).toContain(`pullgate: ${WHY}`);
    says(printed.stdout);
    const written = await check(`empty.csv -f ${format} -o ${format}.out`);
    expect(written).toMatchObject({ status: 2, stdout: '' });
    expect(written.stderr).toContain(WHY);
    expect(text(`${format}.out`)).toBe(printed.stdout);
  });

  it('is told once on a terminal, and in a text file', async () => {
    expect(await check('empty.csv')).toMatchObject({ status: 2, stdout: '' });
    expect(await check('empty.csv -o told.txt')).toMatchObject({ status: 2, stdout: '' });
    expect(text('told.txt')).toContain(`NOT READ  ${WHY}`);
  });

  it('takes the place of an older report in a folder', async () => {
    await check('run.csv -f json -f junit -o reports/');
    expect(JSON.parse(text('reports/run.json')).gate).toBe('pass');
    const later = await runHere(
      ['check', 'run.csv', '-m', 'nope.json', '-f', 'json', '-f', 'junit', '-o', 'reports/'],
      shop.path,
    );
    expect(later.status).toBe(2);
    expect(JSON.parse(text('reports/run.json'))).toMatchObject({ pullgate: 'summary/1', gate: 'not-assessed' });
    expect(text('reports/run.xml')).toContain('errors="1"');
  });

  it('names files in a folder the same, whichever logs can be used', async () => {
    expect((await check('empty.csv run.csv -f json -o both/')).status).toBe(2);
    expect(JSON.parse(text('both/run.json')).gate).toBe('pass');
    expect(JSON.parse(text('both/empty.json')).unusable).toHaveLength(1);
    expect(JSON.parse(text('both/summary.json')).reports).toHaveLength(1);
  });
});

describe('a report that would be written over its log', () => {
  it('is refused before anything is read or made', async () => {
    const { status, stdout, stderr } = await check('run.csv -f json -o run.csv -f html -o new/');
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).toContain('run.csv: this is a log of this run and would be written over.');
    expect(text('run.csv')).toBe(SHOP['run.csv']);
    expect(existsSync(join(shop.path, 'new'))).toBe(false);
  });

  it('is refused for a drafted mapping too', async () => {
    const { status, stderr } = await runHere(['map', 'run.csv', '-o', './run.csv', '--force'], shop.path);
    expect(status).toBe(2);
    expect(stderr).toContain('this is the log itself');
    expect(text('run.csv')).toBe(SHOP['run.csv']);
  });
});
