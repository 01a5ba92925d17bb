import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runHere } from '../cli/run-here.ts';
import { BUILD, GOOD_LOG, MAPPING, workspace } from '../cli/workspace.ts';

const shop = workspace({ 'pullgate.build.json': BUILD, 'pullgate.map.json': MAPPING, 'good.csv': GOOD_LOG });
afterAll(() => shop.remove());
const at = (name: string) => join(shop.path, name);

const run = (...args: string[]) => runHere(args, shop.path);

describe.skipIf(process.platform === 'win32')('what is no regular file does not hang the run', () => {
  execFileSync('mkfifo', [at('pipe.csv'), at('pipe.json')]);
  symlinkSync('pipe.csv', at('link-to-pipe.csv'));
  symlinkSync('loop-b.csv', at('loop-a.csv'));
  symlinkSync('loop-a.csv', at('loop-b.csv'));
  symlinkSync('nowhere', at('dangling.csv'));
  symlinkSync('good.csv', at('link.csv'));
  mkdirSync(at('folder.csv'));

  const REGULAR = /this is a pipe, a socket or a device, and a regular file is needed\..*"-"/;

  it.each([
    ['pipe.csv', REGULAR],
    ['link-to-pipe.csv', REGULAR],
    ['/dev/zero', REGULAR],
    ['/dev/null', REGULAR],
    ['loop-a.csv', /loop-a\.csv: the link points to itself/],
    ['dangling.csv', /dangling\.csv: there is no such file/],
    ['folder.csv', /folder\.csv: there is no \*\.csv file in this folder/],
  ])(
    '%s',
    async (name, told) => {
      for (const command of ['check', 'survey', 'map']) {
        const sheets = command === 'check' ? ['-b', 'pullgate.build.json', '-m', 'pullgate.map.json'] : [];
        const { status, stdout, stderr } = await run(command, name, ...sheets);
        expect(stderr).toMatch(told);
        expect(stderr).not.toContain('a fault in pullgate');
        expect(stdout).toBe('');
        expect(status).toBe(2);
      }
    },
    20_000,
  );

  it('a pipe in place of a mapping or a build sheet', async () => {
    expect((await run('check', 'good.csv', '-m', 'pipe.json')).stderr).toMatch(/pipe\.json: this is a pipe/);
    expect((await run('check', 'good.csv', '-b', 'pipe.json')).stderr).toMatch(/pipe\.json: this is a pipe/);
    expect((await run('survey', 'good.csv', '-m', '/dev/zero')).stderr).toMatch(/zero: this is a pipe/);
  }, 20_000);

  it('a folder that holds such things is searched, and each is told in its place', async () => {
    const { stdout, status } = await run('check', '.', '-f', 'json', '--fail-on', 'never', '--only', 'trouble-codes');
    const summary = JSON.parse(stdout) as { reports: unknown[]; unusable: { file: string; error: string }[] };
    expect(status).toBe(2);
    expect(summary.reports).toHaveLength(2);
    expect(summary.unusable.map(({ file }) => file).sort()).toEqual([
      'dangling.csv',
      'link-to-pipe.csv',
      'loop-a.csv',
      'loop-b.csv',
      'pipe.csv',
    ]);
  }, 60_000);
});

describe.skipIf(process.platform === 'win32')('a file name made to deceive', () => {
  const NAMES = ['a\nGATE: pass\n.csv', 'b\u001b[2J\u001b[1;1H.csv', 'c\u202egpj.csv', 'd\r.csv'];

  it.each(NAMES)(
    '%j stays on one line and moves no cursor',
    async (name) => {
      writeFileSync(at(name), 'x\n1\n');
      for (const args of [
        ['check'],
        ['survey'],
        ['map'],
        ['check', '-f', 'json', 'good.csv', '--only', 'trouble-codes'],
      ]) {
        const { stdout, stderr } = await run(...args, name);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: these must not be printed
        expect(stdout + stderr).not.toMatch(/[\u001b\r\u202e]/);
        expect(stdout + stderr).not.toMatch(/^GATE/m);
      }
    },
    60_000,
  );
});
