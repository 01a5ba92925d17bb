import { afterAll, describe, expect, it, vi } from 'vitest';
import { Survey } from '../../src/report/survey-schema.ts';
import { DIESEL_BUILD, onceASecondLog, ROAD_BUILD, turnByTurnLog } from '../support/road-logs.ts';
import { runHere } from './run-here.ts';
import { GOOD_LOG, MAPPING, workspace } from './workspace.ts';

vi.setConfig({ testTimeout: 60_000 });

const personal = [
  'Time (s),RPM,MAP (kPa),GPS Latitude,Driver Name,VIN',
  ...Array.from({ length: 80 }, (_, i) => `${i / 10},${800 + i},${35 + i},52.0${i},Ada,WAUZZZ8K9BA123456`),
].join('\n');

const shop = workspace({
  'mapped/pullgate.map.json': MAPPING,
  'mapped/run.csv': GOOD_LOG,
  'bare/run.csv': GOOD_LOG,
  'bare/personal.csv': personal,
  'bare/escape.csv': `Time (s),RPM,\u001b[31mX\u001b[0m <b>=1+1\n${Array.from({ length: 60 }, (_, i) => `${i / 10},${800 + i},${i}`).join('\n')}`,
  'turn/log.csv': turnByTurnLog(),
  'turn/pullgate.build.json': DIESEL_BUILD,
  'second/log.csv': onceASecondLog(),
  'second/pullgate.build.json': ROAD_BUILD,
  'still/log.csv': onceASecondLog(600, 'stays at zero'),
});
afterAll(() => shop.remove());

const run = (args: string, env?: Record<string, string>) => runHere(args.split(' '), shop.path, env);
const surveyed = async (args: string): Promise<Survey> => {
  const { stdout, stderr, status } = await run(`survey ${args} -f json`);
  expect({ stderr, status }).toEqual({ stderr: '', status: 0 });
  return Survey.parse(JSON.parse(stdout));
};
const columnOf = (survey: Survey, channel: string) => survey.columns.find((column) => column.channel === channel);

describe('survey', () => {
  it('uses the nearest mapping, and guesses without one', async () => {
    const mapped = await surveyed('mapped/run.csv');
    expect(mapped.mapping).toEqual({ title: MAPPING.title, guessed: false });
    expect(columnOf(mapped, 'engine_speed')).toMatchObject({ column: 'Engine speed (rpm)', confidence: null });
    const bare = await surveyed('bare/run.csv');
    expect(bare.mapping.guessed).toBe(true);
    expect(columnOf(bare, 'engine_speed')?.confidence).toBeGreaterThan(0.9);
    expect(await surveyed('bare/run.csv -m mapped/pullgate.map.json')).toMatchObject({ mapping: mapped.mapping });
  });

  it('is the same every time, and tells rate, range and step', async () => {
    const first = await surveyed('bare/run.csv');
    expect(await surveyed('bare/run.csv')).toEqual(first);
    expect(columnOf(first, 'manifold_pressure')).toMatchObject({ unit: 'kPa absolute', coverage: 1 });
    expect(columnOf(first, 'manifold_pressure')?.rate).toBeCloseTo(20, 1);
    expect(first.doubts).toEqual([]);
  });

  it('never shows a personal column', async () => {
    for (const args of ['survey bare/personal.csv', 'survey bare/personal.csv -f json', 'map bare/personal.csv']) {
      const { stdout, stderr } = await run(args);
      expect(stdout + stderr).not.toMatch(/Latitude|Driver|VIN|Ada|WAUZZZ|52\.0/);
    }
    expect((await run('survey bare/personal.csv')).stdout).toContain('3 personal columns left out.');
  });

  it('lets nothing from the log reach the terminal as a command', async () => {
    const { stdout } = await run('survey bare/escape.csv');
    expect(stdout).not.toContain('\u001b');
  });

  it('draws with blocks, and with ASCII where asked', async () => {
    expect((await run('survey bare/run.csv', { LANG: 'de_DE.UTF-8' })).stdout).toMatch(/[▁▂▃▄▅▆▇█]{4}/);
    expect((await run('survey bare/run.csv')).stdout).toMatch(/[▁▂▃▄▅▆▇█]{4}/);
    for (const env of [{ TERM: 'dumb' }, { LC_ALL: 'C' }, { LANG: 'pl_PL.ISO-8859-2' }]) {
      expect((await run('survey bare/run.csv', env)).stdout).not.toMatch(/[▁▂▃▄▅▆▇█]/);
    }
  });

  it('ends 2 for no log, several logs and a bad mapping', async () => {
    expect(await run('survey nope.csv')).toMatchObject({ status: 2, stdout: '' });
    expect((await run('survey bare')).stderr).toContain('3 logs are here, and one is wanted.');
    expect(await run('survey bare/run.csv -m turn/pullgate.build.json')).toMatchObject({ status: 2, stdout: '' });
  });
});

describe('a log that refreshes one of ten columns a row', () => {
  it('is seen through: polled in turn, true rates of a tenth', async () => {
    const survey = await surveyed('turn/log.csv');
    expect(survey.time.unit).toBe('clock');
    expect(survey.time.polling).toMatchObject({ kind: 'in turn', perRow: 1, blank: false });
    for (const id of ['engine_speed', 'manifold_pressure', 'coolant_temperature', 'mass_air_flow']) {
      expect(columnOf(survey, id)?.rate, id).toBeCloseTo(1.3, 1);
    }
    expect(survey.analysers.find(({ id }) => id === 'boost-spike')?.served).toBe('limited');
  });

  it('check finds nothing to fail', async () => {
    const { stdout, status } = await run('check turn/log.csv -f json');
    const verdicts = JSON.parse(stdout).analysers.map((one: { verdict: string }) => one.verdict);
    expect(verdicts).not.toContain('fail');
    expect(verdicts.filter((verdict: string) => verdict === 'not-assessed').length).toBeGreaterThan(
      verdicts.length / 2,
    );
    expect([0, 1]).toContain(status);
  });
});

describe('a log at one row a second without units', () => {
  it('tells its units from the values', async () => {
    const survey = await surveyed('second/log.csv');
    expect(survey.columns).toHaveLength(26);
    expect(columnOf(survey, 'manifold_pressure')).toMatchObject({ unit: 'kPa absolute', unitFrom: 'values' });
    expect(columnOf(survey, 'coolant_temperature')).toMatchObject({ unit: 'degC' });
    expect(survey.time.repeats).toBeGreaterThan(0);
    expect(survey.analysers.find(({ id }) => id === 'fuel-trim')?.served).toBe('yes');
  });

  it('check judges its trims and fails nothing', async () => {
    const { stdout } = await run('check second/log.csv -f json');
    const { analysers } = JSON.parse(stdout) as { analysers: { id: string; verdict: string }[] };
    expect(analysers.find(({ id }) => id === 'fuel-trim')?.verdict).toBe('pass');
    expect(analysers.map(({ verdict }) => verdict)).not.toContain('fail');
  });

  it('without any time it still tells names, and with a rate the rest', async () => {
    const still = await surveyed('still/log.csv');
    expect(still.time.duration).toBeNull();
    expect(columnOf(still, 'engine_speed')).toMatchObject({ rate: null, max: expect.any(Number) });
    expect(still.notes.join()).toContain('no column looks like time');
    const rated = await surveyed('still/log.csv --rate 1');
    expect(rated.analysers.find(({ id }) => id === 'fuel-trim')?.served).toBe('yes');
  });
});
