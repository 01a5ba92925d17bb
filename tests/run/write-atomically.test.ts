import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { lstatSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { writeAtomically } from '../../src/run/write-atomically.ts';
import { PROGRAM } from '../cli/run-program.ts';

const folder = mkdtempSync(join(tmpdir(), 'pullgate-write-'));
afterAll(() => rmSync(folder, { recursive: true }));
const at = (name: string) => join(folder, name);
const hasFifo = spawnSync('mkfifo', ['--version']).error === undefined;

it('replaces a file and leaves no draft', () => {
  writeFileSync(at('a.json'), 'old');
  writeAtomically(at('a.json'), 'new', 'a.json');
  expect(readFileSync(at('a.json'), 'utf8')).toBe('new');
  expect(readdirSync(folder)).toEqual(['a.json']);
});

it('writes through a link, which stays one', () => {
  writeFileSync(at('target.json'), 'old');
  symlinkSync(at('target.json'), at('link.json'));
  writeAtomically(at('link.json'), 'new', 'link.json');
  expect(readFileSync(at('target.json'), 'utf8')).toBe('new');
  expect(lstatSync(at('link.json')).isSymbolicLink()).toBe(true);
});

it.skipIf(!hasFifo)('writes into a pipe and puts no file in its place', () => {
  execFileSync('mkfifo', [at('pipe')]);
  spawn('sh', ['-c', `cat "${at('pipe')}" > "${at('seen')}"`], { stdio: 'ignore' });
  // As a process of its own, since a pipe that nobody reads would hold this one for ever.
  const log = resolve(import.meta.dirname, '../../demo-logs/hatchback-first-base-run/base-run.csv');
  const { status } = spawnSync(process.execPath, [PROGRAM, 'check', log, '-f', 'csv', '-o', at('pipe')], {
    timeout: 30_000,
  });
  expect(status).toBe(0);
  expect(lstatSync(at('pipe')).isFIFO()).toBe(true);
  expect(readFileSync(at('seen'), 'utf8')).toContain('fuel-trim');
});
