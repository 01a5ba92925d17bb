import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { Report, Summary } from '../../src/report/report-schema.ts';
import { cleanEnv, PROGRAM, runProgram } from './run-program.ts';
import { BUILD, GOOD_LOG, SHOP, workspace } from './workspace.ts';

vi.setConfig({ testTimeout: 60_000 });

const strict = (warn: string, fail: string) => ({ ...BUILD, limits: { 'injector-duty.peak': { warn, fail } } });
const shop = workspace({
  ...SHOP,
  'empty.csv': '',
  'day/one.csv': GOOD_LOG,
  'day/deep/two.csv': GOOD_LOG,
  'warn.json': strict('60 %', '99 %'),
  'fail.json': strict('50 %', '60 %'),
});
afterAll(() => shop.remove());

const check = (args: string, options: { input?: string; env?: Record<string, string>; cwd?: string } = {}) =>
  runProgram(['check', ...args.split(' ').filter(Boolean)], { cwd: shop.path, ...options });

describe('check on a good log', () => {
  it('opens the gate, prints to standard output only and ends 0', () => {
    const { status, stdout, stderr } = check('run.csv');
    expect(stdout).toMatch(/^GATE OPEN {2}run\.csv\n/);
    expect(stderr).toBe('');
    expect(status).toBe(0);
  });

  it('finds mapping and build sheet above the log, and takes those given', () => {
    expect(check('../run.csv', { cwd: join(shop.path, 'day') }).status).toBe(0);
    expect(check('day/deep/two.csv -m pullgate.map.json -b pullgate.build.json').status).toBe(0);
  });

  it('reads standard input', () => {
    const { status, stdout } = check('- -f json', { input: GOOD_LOG });
    expect(status).toBe(0);
    expect(Report.parse(JSON.parse(stdout)).log.file).toBe('standard input');
  });

  it('gives the same bytes each time, with no absolute path', () => {
    const first = check(`${join(shop.path, 'run.csv')} -f json`);
    expect(check(`${join(shop.path, 'run.csv')} -f json`).stdout).toBe(first.stdout);
    expect(first.stdout).not.toContain(shop.path);
    expect(Report.parse(JSON.parse(first.stdout)).log.file).toBe('run.csv');
  });

  it('guesses the columns where no mapping lies about, and says so at the top', () => {
    const bare = workspace({ 'run.csv': GOOD_LOG, 'pullgate.build.json': BUILD });
    const { status, stdout } = runProgram(['check', 'run.csv'], { cwd: bare.path });
    expect(stdout.split('\n')[2]).toContain('No mapping file was given');
    expect([0, 1]).toContain(status);
    bare.remove();
  });

  it('is short under --quiet', () => {
    expect(check('run.csv -q').stdout.trimEnd().split('\n')).toHaveLength(2);
  });
});

describe('the gate and the exit code', () => {
  it.each([
    ['-b warn.json', 0, 'GATE OPEN'],
    ['-b warn.json --fail-on warn', 1, 'GATE CLOSED'],
    ['-b fail.json', 1, 'GATE CLOSED'],
    ['-b fail.json --fail-on never', 0, 'GATE CLOSED'],
    ['-b fail.json --skip injector-duty', 0, 'GATE OPEN'],
    ['--only trouble-codes', 1, 'GATE CLOSED'],
    ['--only trouble-codes --dtc none', 0, 'GATE OPEN'],
    ['--dtc P0300,P0301', 1, 'GATE CLOSED'],
  ])('run.csv %s ends %i', (args, status, words) => {
    const ended = check(`run.csv -q ${args}`);
    expect(ended.stderr).toBe('');
    expect(ended.stdout.startsWith(words)).toBe(true);
    expect(ended.status).toBe(status);
  });
});

describe('check on several logs', () => {
  it('searches folders and patterns', () => {
    const { status, stdout } = check('day **/two.csv -f json');
    expect(status).toBe(0);
    expect(Summary.parse(JSON.parse(stdout)).reports.map((report) => report.log.file)).toEqual([
      'day/deep/two.csv',
      'day/one.csv',
    ]);
  });

  it('tells an unusable log in its place, goes on, and ends 2', () => {
    const { status, stdout, stderr } = check('empty.csv run.csv nope.csv -q');
    expect(status).toBe(2);
    expect(stderr).toBe('');
    expect(stdout.indexOf('NOT READ  empty.csv: the file is empty.')).toBe(0);
    expect(stdout).toContain('GATE OPEN  run.csv');
    expect(stdout.trimEnd().endsWith('3 logs: 1 gate open, 0 closed, 2 not read.')).toBe(true);
  });

  it('gives a summary even where nothing could be read', () => {
    const { status, stdout, stderr } = check('empty.csv nope.csv -f json');
    expect(status).toBe(2);
    expect(Summary.parse(JSON.parse(stdout))).toMatchObject({ gate: 'not-assessed', reports: [] });
    expect(stderr.match(/^pullgate: /gm)).toHaveLength(2);
  });
});

describe('--out', () => {
  it('writes a file and leaves standard output alone', () => {
    const { status, stdout } = check('run.csv -o out.json');
    expect([status, stdout]).toEqual([0, '']);
    expect(Report.parse(JSON.parse(readFileSync(join(shop.path, 'out.json'), 'utf8'))).gate).toBe('pass');
  });

  it('writes two formats at once, one to standard output', () => {
    const { stdout } = check('run.csv -f terminal -f json -o both.json');
    expect(stdout).toMatch(/^GATE OPEN/);
    expect(existsSync(join(shop.path, 'both.json'))).toBe(true);
  });

  it('fills a folder with a file for each log and a summary', () => {
    expect(check('day run.csv -f json -f terminal -o reports/').status).toBe(0);
    expect(readdirSync(join(shop.path, 'reports')).sort()).toEqual([
      'day-deep-two.json',
      'day-deep-two.txt',
      'day-one.json',
      'day-one.txt',
      'run.json',
      'run.txt',
      'summary.json',
      'summary.txt',
    ]);
  });
});

describe('colour and pipes', () => {
  const coloured = (env: Record<string, string>, args = '') =>
    check(`run.csv -q ${args}`, { env }).stdout.includes('\u001b[');

  it('has none in a pipe, some when forced, none when refused', () => {
    expect(coloured({})).toBe(false);
    expect(coloured({ FORCE_COLOR: '1' })).toBe(true);
    expect(coloured({ FORCE_COLOR: '1' }, '--no-color')).toBe(false);
    expect(coloured({ NO_COLOR: '1' })).toBe(false);
  });

  it.skipIf(process.platform === 'win32')('ends quietly when the reader goes away', () => {
    const many = Array.from({ length: 40 }, () => 'run.csv day').join(' ');
    const { stdout, stderr } = spawnSync(
      'sh',
      ['-c', `"${process.execPath}" "${PROGRAM}" check ${many} -f json | head -c 10`],
      {
        cwd: shop.path,
        env: cleanEnv(),
        encoding: 'utf8',
      },
    );
    expect(stdout).toBe('{\n  "pullg');
    expect(stderr).toBe('');
  });
});
