import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import { onceASecondLog, turnByTurnLog } from '../support/road-logs.ts';
import { runHere } from './run-here.ts';
import { BUILD, GOOD_LOG, workspace } from './workspace.ts';

vi.setConfig({ testTimeout: 60_000 });

const undecided = [
  'Time (s),RPM,Boost (psi),Odd\u2028"name */ // x',
  ...Array.from({ length: 80 }, (_, i) => `${i / 10},${3000 + 30 * i},${10 + i / 10},${i}`),
].join('\n');

const shop = workspace({
  'run.csv': GOOD_LOG,
  'undecided.csv': undecided,
  'turn.csv': turnByTurnLog(2000),
  'still.csv': onceASecondLog(300, 'stays at zero'),
  'kept/run.csv': GOOD_LOG,
  'kept/pullgate.map.json': '{ "mine": true }',
  'fresh/run.csv': GOOD_LOG,
  'fresh/pullgate.build.json': BUILD,
});
afterAll(() => shop.remove());

const run = (args: string) => runHere(args.split(' '), shop.path);
const file = (path: string) => readFileSync(join(shop.path, path), 'utf8');

describe('map', () => {
  it('prints a draft that is a valid mapping, and says why on standard error', async () => {
    const { stdout, stderr, status } = await run('map run.csv');
    expect(status).toBe(0);
    const mapping = parseMapping(stdout, 'draft');
    expect(mapping.channels.engine_speed).toBe('Engine speed (rpm)');
    expect(stdout).toMatch(/\/\/ \d+ % sure: its name, and the header says rpm\n {4}"engine_speed"/);
    expect(stderr).toContain('pullgate: engine_speed is "Engine speed (rpm)" (99 %: its name');
  });

  it('leaves out what it cannot tell and asks', async () => {
    const { stdout, stderr } = await run('map undecided.csv');
    const mapping = parseMapping(stdout, 'draft');
    expect(mapping.channels.manifold_pressure).toBeUndefined();
    expect(stdout).toContain('// "Boost (psi)" may be gauge or absolute');
    expect(stderr).toContain('QUESTION "Boost (psi)" may be gauge or absolute');
  });

  it.each(['turn.csv', 'still.csv --rate 1'])('drafts %s', async (args) => {
    const { stdout, status } = await run(`map ${args}`);
    expect(status).toBe(0);
    expect(Object.keys(parseMapping(stdout, 'draft').channels).length).toBeGreaterThan(5);
  });

  it('asks for the rate of a log without time', async () => {
    const { stderr, status } = await run('map still.csv');
    expect(status).toBe(2);
    expect(stderr).toContain('--rate');
    expect(await run('map still.csv --rate zero')).toMatchObject({ status: 2 });
  });

  it('writes beside the log, and check then uses it', async () => {
    expect(await run('map fresh/run.csv --write')).toMatchObject({ status: 0, stdout: '' });
    expect(parseMapping(file('fresh/pullgate.map.json'), 'written').channels.engine_speed).toBeDefined();
    const { stdout } = await run('check fresh/run.csv -f json');
    expect(JSON.parse(stdout).mapping.guessed).toBe(false);
  });

  it('never writes over a file without --force', async () => {
    for (const args of ['map kept/run.csv --write', 'map kept/run.csv -o kept/pullgate.map.json']) {
      const { stderr, status } = await run(args);
      expect(status).toBe(2);
      expect(stderr).toContain('kept/pullgate.map.json: already there; nothing was written.');
    }
    expect(file('kept/pullgate.map.json')).toBe('{ "mine": true }');
    expect((await run('map kept/run.csv --write --force')).status).toBe(0);
    expect(file('kept/pullgate.map.json')).toContain('"map/1"');
  });

  it('-o writes where it says', async () => {
    expect((await run('map run.csv -o other.map.json')).stderr).toContain('wrote other.map.json');
    expect(existsSync(join(shop.path, 'other.map.json'))).toBe(true);
  });
});
