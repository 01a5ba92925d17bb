import { chmodSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { runProgram } from './run-program.ts';
import { BUILD, GOOD_LOG, MAPPING, workspace } from './workspace.ts';

vi.setConfig({ testTimeout: 60_000 });

type Files = Record<string, string | Buffer | object>;

const [header, ...rows] = GOOD_LOG.trimEnd().split('\n');
const text = (lines: readonly string[]) => `${lines.join('\n')}\n`;
const eachRow = (change: (cells: string[]) => string[]) =>
  text([header, ...rows.slice(0, 500).map((row) => change(row.split(',')).join(','))]);
const bytes = Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * 37) % 256));
const { engine_speed: _, ...otherChannels } = MAPPING.channels;

const log = (content: string | Buffer): Files => ({ 'log.csv': content });
const map = (content: object | string): Files => ({ ...log(GOOD_LOG), 'own.map.json': content });
const build = (content: object | string): Files => ({ ...log(GOOD_LOG), 'own.build.json': content });

/** What is wrong, the files, the arguments, and what the message must say. */
const CASES: readonly (readonly [wrong: string, files: Files, args: string, told: RegExp])[] = [
  ['empty file', log(''), 'log.csv', /log\.csv: the file is empty/],
  ['only blank lines', log('\n\n\n'), 'log.csv', /log\.csv/],
  ['binary file', log(bytes), 'log.csv', /log\.csv: this is binary data.*Export the log as CSV/],
  ['header only', log(text([header])), 'log.csv', /log\.csv.*no data row/],
  ['one row', log(text([header, rows[0]])), 'log.csv', /log\.csv.*one row/],
  [
    'no time column',
    log(text([header, ...rows].map((row) => row.replace(/^[^,]*,/, '')))),
    'log.csv',
    /log\.csv, pullgate\.map\.json, time\.column: the log has no column "Time \(s\)"/,
  ],
  [
    'missing column',
    log(GOOD_LOG.replace('Engine speed (rpm)', 'Motor')),
    'log.csv',
    /channels\.engine_speed: the log has no column "Engine speed \(rpm\)"/,
  ],
  [
    'wrong delimiter',
    map({ ...MAPPING, dialect: { delimiter: ';' } }),
    'log.csv -m own.map.json',
    /delimiter, semicolon, does not occur/,
  ],
  [
    'time that stands still (0 Hz)',
    log(eachRow((cells) => ['7.000', ...cells.slice(1)])),
    'log.csv',
    /log\.csv, time: the time never moves forward/,
  ],
  [
    'NaN everywhere',
    log(eachRow((cells) => cells.map(() => 'NaN'))),
    'log.csv',
    /log\.csv: no cell of the file reads as a number/,
  ],
  [
    'NaN but for the time',
    log(eachRow((cells) => cells.map((cell, i) => (i > 0 ? 'NaN' : cell)))),
    'log.csv',
    /log\.csv: no mapped channel holds a value/,
  ],
  ['folder without logs', { 'folder/readme.txt': 'x' }, 'folder', /folder: there is no \*\.csv file/],
  ['missing file', log(GOOD_LOG), 'lgo.csv', /lgo\.csv: there is no such file or folder\. Did you mean "log\.csv"\?/],
  ['pattern without a match', {}, 'x-*.csv', /x-\*\.csv: no file matches/],
  [
    'mapping with a misspelt key',
    map({ ...MAPPING, chanels: {} }),
    'log.csv -m own.map.json',
    /own\.map\.json:\d+:\d+, chanels: .*Did you mean "channels"\?/,
  ],
  [
    'mapping with a misspelt channel',
    map({ ...MAPPING, channels: { ...otherChannels, engin_speed: 'x' } }),
    'log.csv -m own.map.json',
    /own\.map\.json:\d+:\d+, channels\.engin_speed.*Did you mean "engine_speed"\?/,
  ],
  [
    'mapping that is no JSON',
    map('{ "pullgate": '),
    'log.csv -m own.map.json',
    /own\.map\.json:1:\d+: this is not valid JSON/,
  ],
  [
    'mapping in place of the build sheet',
    map(MAPPING),
    'log.csv -b own.map.json',
    /own\.map\.json: this is a mapping, not a build sheet/,
  ],
  [
    'build sheet with a bare number',
    build({ ...BUILD, engine: { ...BUILD.engine, displacement: 2 } }),
    'log.csv -b own.build.json',
    /own\.build\.json:\d+:\d+, engine\.displacement: found the number 2\. Write it as a text with its unit, for example "2\.0 L"/,
  ],
  [
    'build sheet with an unknown limit',
    build({ ...BUILD, limits: { 'injector-duty.peek': {} } }),
    'log.csv -b own.build.json',
    /Did you mean "injector-duty\.peak"/,
  ],
  [
    'build sheet with an unknown analyser',
    build({ ...BUILD, required: ['fuel-trm'] }),
    'log.csv -b own.build.json',
    /required\[0\].*Did you mean "fuel-trim"\?/,
  ],
  ['mapping that is not there', log(GOOD_LOG), 'log.csv -m nope.json', /nope\.json: there is no such file/],
  [
    'folder in place of a mapping',
    { ...log(GOOD_LOG), 'folder/x': '' },
    'log.csv -m folder',
    /folder: this is a folder/,
  ],
  [
    'unknown analyser',
    log(GOOD_LOG),
    'log.csv --only boost-spik',
    /--only: There is no analyser "boost-spik"\. Did you mean "boost-spike"\?/,
  ],
  [
    'unknown format',
    log(GOOD_LOG),
    'log.csv -f jsn',
    /--format: There is no format "jsn"\. Did you mean "json"\? Formats are: terminal, json/,
  ],
  ['trouble code that is none', log(GOOD_LOG), 'log.csv --dtc PX12', /--dtc: "PX12" is no trouble code/],
  [
    'place that cannot be written',
    log(GOOD_LOG),
    'log.csv -o no/such/x.json',
    /no\/such\/x\.json: the folder that this would go into is not there/,
  ],
  ['two formats for one place', log(GOOD_LOG), 'log.csv -f json -f terminal', /cannot share standard output/],
  ['unknown verdict for --fail-on', log(GOOD_LOG), 'log.csv --fail-on wrn', /Allowed choices are warn, fail, never/],
  ['unknown option', log(GOOD_LOG), 'log.csv --fial-on warn', /unknown option '--fial-on'/],
  ['no log named', {}, '', /missing required argument 'log'/],
];

describe('bad input ends 2 with one clear message', () => {
  it.each(CASES)('%s', (_wrong, files, args, told) => {
    const shop = workspace({ 'pullgate.map.json': MAPPING, 'pullgate.build.json': BUILD, ...files });
    const { status, stdout, stderr } = runProgram(['check', ...args.split(' ').filter(Boolean)], { cwd: shop.path });
    shop.remove();
    expect(stderr).toMatch(told);
    expect(stderr).not.toMatch(/^\s+at |node:internal|\.cjs:/m);
    expect(stderr).not.toContain('a fault in pullgate');
    expect(stdout).toBe('');
    expect(status).toBe(2);
  });

  it('no build sheet', () => {
    const shop = workspace(log(GOOD_LOG));
    const { status, stderr } = runProgram(['check', 'log.csv'], { cwd: shop.path });
    shop.remove();
    expect(stderr).toMatch(/^pullgate: log\.csv: no build sheet was given.*pullgate init/);
    expect(status).toBe(2);
  });

  it.skipIf(process.getuid?.() === 0)('no permission', () => {
    const shop = workspace({ 'pullgate.map.json': MAPPING, 'pullgate.build.json': BUILD, ...log(GOOD_LOG) });
    chmodSync(join(shop.path, 'log.csv'), 0);
    const { status, stderr } = runProgram(['check', 'log.csv'], { cwd: shop.path });
    shop.remove();
    expect(stderr).toMatch(/^pullgate: log\.csv: no permission to open it/);
    expect(status).toBe(2);
  });

  it('a command that is none, and no command at all', () => {
    const shop = workspace({});
    expect(runProgram(['chek'], { cwd: shop.path })).toMatchObject({ status: 2, stdout: '' });
    expect(runProgram([], { cwd: shop.path })).toMatchObject({ status: 2, stdout: '' });
    shop.remove();
  });
});

describe('hostile input', () => {
  it('sends no control character of a name to the terminal', () => {
    const shop = workspace({ 'pullgate.build.json': BUILD });
    const { stderr } = runProgram(['check', 'a\u001b[31m.csv'], { cwd: shop.path });
    shop.remove();
    expect(stderr).toContain('a\\x1b[31m.csv');
    expect(stderr).not.toContain('\u001b');
  });

  it('prints no vehicle identification number, not even of a file that is not there', () => {
    const shop = workspace({ 'pullgate.build.json': BUILD });
    const { stderr } = runProgram(['check', '1XYZZ99AB9C123456.csv'], { cwd: shop.path });
    shop.remove();
    expect(stderr).toContain('(removed).csv');
    expect(stderr).not.toContain('1XYZZ99AB9C123456');
  });
});
