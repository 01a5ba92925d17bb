import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { ROOT } from './golden-runs.ts';
import { cleanEnv, PROGRAM, runProgram } from './run-program.ts';
import { workspace } from './workspace.ts';

vi.setConfig({ testTimeout: 60_000 });

const LOG = 'demo-logs/saloon-knock-on-one-cylinder/second-visit.csv';
const UTF8 = { LC_ALL: 'C.UTF-8', TERM: 'xterm-256color' };
const out = workspace({});
afterAll(out.remove);

const check = (args: readonly string[], env: Record<string, string>) =>
  runProgram(['check', LOG, ...args], { cwd: ROOT, env }).stdout;

describe('courses of the pulls, as the program prints them', () => {
  it('are blocks in a UTF-8 locale and ASCII where the terminal asks for it', () => {
    expect(check([], UTF8)).toMatch(/Retard 0\.0 to \d+\.\d° +▁+[▂-█]+/);
    for (const env of [{ LC_ALL: 'C' }, { ...UTF8, TERM: 'dumb' }]) {
      const text = check([], env);
      expect(text).not.toMatch(/[▁-█]/);
      expect(text).toMatch(/Retard 0\.0 to \d+\.\d° +_+[.\-=+*#@]+/);
      expect(text).toMatch(/^ {2}FAIL Timing pull +\^/m);
    }
  });

  it('stand in a text file as well, beside the page, and not where the report is to be short', () => {
    const file = join(out.path, 'report.txt');
    check(['-f', 'terminal', '-o', file, '-f', 'html', '-o', join(out.path, 'report.html')], UTF8);
    expect(readFileSync(file, 'utf8')).toContain('FAIL Timing pull');
    expect(readFileSync(file, 'utf8')).toMatch(/[▂-█]{3}/);
    expect(check(['--quiet'], UTF8)).not.toMatch(/[▁-█]/);
  });

  it('leave the JSON report as it was', () => {
    expect(Object.keys(JSON.parse(check(['-f', 'json'], UTF8)))).not.toContain('courses');
  });
});

const hasScript = /util-linux/.test(spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout ?? '');

it.runIf(hasScript)('a terminal that does not tell its width gets 80 columns', () => {
  const command = `stty cols 0; exec '${process.execPath}' '${PROGRAM}' check ${LOG} --no-color`;
  const { stdout } = spawnSync('script', ['-qec', command, '/dev/null'], {
    cwd: ROOT,
    env: cleanEnv(UTF8),
    stdio: ['ignore', 'pipe', 'pipe'],
    encoding: 'utf8',
  });
  expect(stdout.replaceAll('\r\n', '\n')).toBe(check([], UTF8));
});
