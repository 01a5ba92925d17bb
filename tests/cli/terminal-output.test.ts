import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { cleanEnv, type Ended, PROGRAM, runProgram } from './run-program.ts';
import { SHOP, workspace } from './workspace.ts';

vi.setConfig({ testTimeout: 60_000 });

const shop = workspace({ ...SHOP, 'again.csv': SHOP['run.csv'], 'empty.csv': '' });
afterAll(shop.remove);

const cwd = shop.path;
const LOG = 'run.csv';
const ESCAPE = '\u001b';
// biome-ignore lint/suspicious/noControlCharactersInRegex: colours are control sequences
const COLOUR = /\u001b\[[0-9;]*m/g;

const piped = (args: readonly string[], env: Record<string, string> = {}) =>
  runProgram(['check', ...args], { cwd, env: { TERM: 'xterm-256color', ...env } });

const plain = piped([LOG]).stdout;

describe('into a pipe', () => {
  // no-color.org and force-color.org (from memory): each counts when present and not empty. Node's own order where both are set: FORCE_COLOR.
  it.each<[Record<string, string>, readonly string[], boolean]>([
    [{}, [], false],
    [{ FORCE_COLOR: '0' }, [], false],
    [{ FORCE_COLOR: '3' }, [], true],
    [{ FORCE_COLOR: '' }, [], false],
    [{ FORCE_COLOR: '1', NO_COLOR: '1' }, [], true],
    [{ FORCE_COLOR: '1', TERM: 'dumb' }, [], true],
    [{ FORCE_COLOR: '3' }, ['--no-color'], false],
  ])('%j %j: colour %s', (env, options, coloured) => {
    const { stdout, stderr } = piped([LOG, ...options], env);
    expect(stdout.includes(ESCAPE)).toBe(coloured);
    if (env.TERM !== 'dumb') expect(stdout.replace(COLOUR, '')).toBe(plain);
    expect(stderr).toBe('');
  });

  it('data for programs has no colour, forced or not', () => {
    for (const format of ['json', 'markdown']) {
      expect(piped([LOG, '-f', format], { FORCE_COLOR: '3' }).stdout).not.toContain(ESCAPE);
    }
  });

  it('data goes to standard output and messages to standard error', () => {
    const alone = piped(['empty.csv']);
    expect(alone.stdout).toBe('');
    expect(alone.stderr).toMatch(/^pullgate: .*empty\.csv/);
    const several = piped([LOG, 'empty.csv', '-f', 'json']);
    expect(JSON.parse(several.stdout).unusable).toHaveLength(1);
    expect(several.stderr).toMatch(/^pullgate: .*empty\.csv.*\n$/);
  });
});

const hasScript = /util-linux/.test(spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout ?? '');

interface Wanted {
  readonly env?: Record<string, string>;
  readonly columns?: number;
  /** Shell words after the command, such as a redirection. */
  readonly after?: string;
}

/** Runs the program on a pseudo terminal, by `script` of util-linux; what the terminal would have shown comes back. */
function onTerminal(args: readonly string[], { env = {}, columns = 80, after = '' }: Wanted = {}): Ended {
  const command = `stty cols ${columns}; exec '${process.execPath}' '${PROGRAM}' check ${args.join(' ')} ${after}`;
  const { status, stdout, stderr } = spawnSync('script', ['-qec', command, '/dev/null'], {
    cwd,
    env: cleanEnv({ TERM: 'xterm-256color', ...env }),
    stdio: ['ignore', 'pipe', 'pipe'],
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  return { status, stdout: stdout.replaceAll('\r\n', '\n'), stderr };
}

describe.runIf(hasScript)('on a terminal', () => {
  it.each<[Record<string, string>, readonly string[], boolean]>([
    [{}, [], true],
    [{ NO_COLOR: '1' }, [], false],
    [{ NO_COLOR: '0' }, [], false],
    [{ NO_COLOR: '' }, [], true],
    [{ TERM: 'dumb' }, [], false],
    [{ FORCE_COLOR: '0' }, [], false],
    [{ FORCE_COLOR: '3', NO_COLOR: '1' }, [], true],
    [{}, ['--no-color'], false],
  ])('%j %j: colour %s', (env, options, coloured) => {
    const { stdout } = onTerminal([LOG, ...options], { env });
    expect(stdout.includes(ESCAPE)).toBe(coloured);
    if (env.TERM !== 'dumb') expect(stdout.replace(COLOUR, '')).toBe(plain);
  });

  it.each([60, 160])('keeps to %i columns', (columns) => {
    const lines = onTerminal([LOG], { columns }).stdout.replace(COLOUR, '').split('\n');
    expect(lines.length).toBeGreaterThan(40);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(columns);
  });

  it('ends as the gate reads', () => {
    expect(onTerminal([LOG]).status).toBe(piped([LOG]).status);
  });

  it('counts logs on the terminal while data goes into a file, and nothing but data goes there', () => {
    const { stdout } = onTerminal([LOG, 'again.csv'], { after: '> out.txt' });
    expect(stdout).toContain('1 of 2 logs');
    expect(readFileSync(join(cwd, 'out.txt'), 'utf8')).toBe(piped([LOG, 'again.csv']).stdout);
  });

  it('prints messages on standard error, even there', () => {
    const { stdout } = onTerminal(['empty.csv'], { after: '2> messages.txt' });
    expect(stdout).toBe('');
    expect(readFileSync(join(cwd, 'messages.txt'), 'utf8')).toMatch(/^pullgate: /);
  });
});
