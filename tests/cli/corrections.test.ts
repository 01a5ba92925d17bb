import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { runHere } from './run-here.ts';

vi.setConfig({ testTimeout: 60_000 });

const ROOT = join(import.meta.dirname, '..', '..');
const here = mkdtempSync(join(tmpdir(), 'pullgate-test-'));
afterAll(() => rmSync(here, { recursive: true, force: true }));
const check = (...args: string[]) => runHere(['check', ...args, '--fail-on', 'never'], ROOT);
const read = (text: string): Record<string, string>[] => parse(text, { columns: true });

describe('check --format corrections-csv', () => {
  it('gives the corrections that the report of the same log suggests', async () => {
    const log = 'demo-logs/estate-lean-at-the-limit';
    const rows = read((await check(log, '-f', 'corrections-csv')).stdout);
    const { corrections } = JSON.parse((await check(log, '-f', 'json')).stdout) as {
      corrections: { cells: { factor: number | null }[]; caution: string };
    };
    expect(rows.map(({ factor }) => (factor === '' ? null : Number(factor)))).toEqual(
      corrections.cells.map(({ factor }) => factor),
    );
    expect(rows.length).toBeGreaterThan(0);
    expect(new Set(rows.map(({ caution }) => caution))).toEqual(new Set([corrections.caution]));
  });

  it('writes a file a log into a folder, and one for all', async () => {
    const logs = ['demo-logs/estate-lean-at-the-limit', 'demo-logs/hatchback-first-base-run'];
    expect((await check(...logs, '-f', 'corrections-csv', '-o', `${here}/`)).stderr).toBe('');
    const files = readdirSync(here).sort();
    expect(files).toHaveLength(3);
    expect(files.every((file) => file.endsWith('.corrections.csv'))).toBe(true);
    const all = read(readFileSync(join(here, 'summary.corrections.csv'), 'utf8'));
    expect(new Set(all.map(({ log }) => log)).size).toBe(2);
  });
});
