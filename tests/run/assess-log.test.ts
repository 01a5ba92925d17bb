import { describe, expect, it } from 'vitest';
import type { Analyser } from '../../src/analysers/analyser.ts';
import { ANALYSER_IDS, ANALYSERS } from '../../src/analysers/registry.ts';
import { UserError } from '../../src/kernel/user-error.ts';
import { hasCrash } from '../../src/report/answer.ts';
import { Report } from '../../src/report/report-schema.ts';
import { assessLog } from '../../src/run/assess-log.ts';
import type { LogInput } from '../../src/run/log-input.ts';
import { BUILD, GOOD_LOG, MAPPING } from '../cli/workspace.ts';

const sheet = (content: object, name: string) => ({ text: JSON.stringify(content), name });
const input = (changes: Partial<LogInput> = {}): LogInput => ({
  name: 'run.csv',
  chunks: [Buffer.from(GOOD_LOG)],
  mapping: sheet(MAPPING, 'car.map.json'),
  build: sheet(BUILD, 'car.build.json'),
  version: '0.0.0',
  ...changes,
});
const told = (changes: Partial<LogInput>): string => {
  try {
    assessLog(input(changes));
  } catch (error) {
    if (error instanceof UserError) return error.message;
    throw error;
  }
  return 'nothing was wrong';
};

describe('assessing a log', () => {
  const report = assessLog(input());

  it('gives a report that fits its schema, every analyser in order', () => {
    expect(Report.parse(report)).toEqual(report);
    expect(report.analysers.map((answer) => answer.id)).toEqual(ANALYSER_IDS);
    expect(report.pulls.map((pull) => Math.round(pull.settledBoost ?? 0))).toEqual([82, 82, 82]);
    expect(report.gate).toBe('pass');
  });

  it('depends on nothing but its input, however the bytes come', () => {
    const pieces = Array.from({ length: Math.ceil(GOOD_LOG.length / 7001) }, (_, i) =>
      Buffer.from(GOOD_LOG.slice(i * 7001, (i + 1) * 7001)),
    );
    expect(JSON.stringify(assessLog(input({ chunks: pieces })))).toBe(JSON.stringify(report));
  });

  it('guesses the columns without a mapping, and says so', () => {
    const guessed = assessLog(input({ mapping: undefined }));
    expect(guessed.mapping).toMatchObject({ title: 'guessed from the column names', guessed: true });
    expect(guessed.channels.map((channel) => channel.id)).toContain('engine_speed');
  });

  it('costs only its answer where an analyser breaks down', () => {
    const broken: Analyser = {
      ...ANALYSERS[0],
      assess: () => {
        throw new RangeError('broken for the test');
      },
    };
    const mended = assessLog(input({ analysers: [broken, ANALYSERS[1]] }));
    expect(hasCrash(mended)).toBe(true);
    expect(mended.analysers[1].verdict).toBe('pass');
  });

  it('hands codes read by hand to the analysers', () => {
    const coded = assessLog(input({ codes: ['P0300'] }));
    expect(coded.analysers.find((answer) => answer.id === 'trouble-codes')?.verdict).toBe('fail');
    expect(coded.gate).toBe('fail');
  });

  it('says in which file the trouble is', () => {
    const { engine_speed, ...others } = MAPPING.channels;
    const lost = sheet({ ...MAPPING, channels: { engine_speed: 'Motor speed', ...others } }, 'car.map.json');
    expect(told({ mapping: lost })).toMatch(/^run\.csv, car\.map\.json, channels\.engine_speed: the log has no column/);
    expect(told({ chunks: [] })).toMatch(/^run\.csv: the file is empty/);
    expect(told({ build: sheet({ ...BUILD, required: ['fuel-trm'] }, 'car.build.json') })).toBe(
      'car.build.json, required[0]: "fuel-trm" is not an analyser. Did you mean "fuel-trim"?',
    );
    expect(told({ build: sheet({ ...BUILD, limits: { 'fuel-trim.levl': {} } }, 'car.build.json') })).toContain(
      'Did you mean "fuel-trim.level"',
    );
  });
});
