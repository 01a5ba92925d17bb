import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { Report } from '../../src/report/report-schema.ts';
import { GOLDEN, goldenOutput, goldenRuns } from './golden-runs.ts';

vi.setConfig({ testTimeout: 60_000 });

const runs = goldenRuns();
const golden = (name: string) => readFileSync(join(GOLDEN, name), 'utf8');

describe('reports of the demo logs; after a wanted change run "npm run golden" and read the difference', () => {
  it.each(runs.map((run) => [run.name, run] as const))('%s', (name, run) => {
    expect(goldenOutput(run)).toBe(golden(name));
  });

  it('has no expected report without a log', () => {
    expect(readdirSync(GOLDEN).sort()).toEqual(runs.map((run) => run.name).sort());
  });
});

describe('what the demo logs are there to show', () => {
  const report = (car: string) => Report.parse(JSON.parse(golden(`${car}.json`)));
  const failing = (car: string) =>
    report(car)
      .analysers.filter((answer) => answer.verdict === 'fail')
      .map((answer) => answer.id);

  it.each([
    ['hatchback-first-base-run', 'pass', []],
    ['estate-lean-at-the-limit', 'fail', ['fuel-trim', 'injector-duty', 'mixture']],
    ['coupe-hand-set-boost', 'fail', ['boost-overshoot']],
    ['saloon-knock-on-one-cylinder', 'fail', ['timing-pull']],
  ])('%s: %s', (car, gate, ids) => {
    expect(report(car).gate).toBe(gate);
    expect(failing(car)).toEqual(ids);
  });

  it.each(runs.map((run) => run.name).filter((name) => name.endsWith('.txt')))('%s keeps to 80 columns', (name) => {
    expect(
      golden(name)
        .split('\n')
        .filter((line) => line.length > 80),
    ).toEqual([]);
  });
});
