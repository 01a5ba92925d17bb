import { describe, expect, it } from 'vitest';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import type { Table } from '../../src/read/table.ts';
import { assembleReport, type ReportParts } from '../../src/report/assemble.ts';
import { STANDING_CAUTIONS } from '../../src/report/cautions.ts';
import type { NextStepReport } from '../../src/report/next-step-schema.ts';
import { type AnalyserAnswer, Report } from '../../src/report/report-schema.ts';
import { everySample, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';

const VIN = '1XYZZ99AB9C123456';

const table: Table = {
  dialect: {
    delimiter: ';',
    quoteChar: '"',
    encoding: 'utf-8',
    decimalChar: ',',
    commentPrefix: undefined,
    skipRows: 2,
    headerRowCount: 1,
  },
  columns: [],
  rowCount: 101,
  firstDataLine: 4,
  bytes: 2048,
  sha256: '0f'.repeat(32),
  notes: ['2 ragged rows.'],
};

function parts(changes: Partial<ReportParts> = {}): ReportParts {
  const time = everySample(10, 10);
  const recording = recordingFrom({
    channels: {
      engine_speed: { time, values: time.map(() => 820), column: 'RPM' },
      gear: { time: [1], values: [3], column: `Gear ${VIN}` },
    },
    barometricKpa: 97.2,
  });
  const build = changes.build ?? aBuild();
  return {
    version: '1.2.3',
    file: `shop/${VIN}.csv`,
    table,
    mapping: { title: 'Map', sha256: '1', guessed: false, notes: ['Guess note.'] },
    buildSource: { title: 'Car', sha256: '2' },
    build,
    drive: segmentDrive(recording, build),
    answers: [],
    analyserCautions: ['Take care.', STANDING_CAUTIONS[1]],
    ...changes,
  };
}

const answer = (id: string, verdict: AnalyserAnswer['verdict']): AnalyserAnswer => ({
  id,
  title: id,
  verdict,
  summary: '',
  findings: [],
  needs: [],
});

const step: NextStepReport = {
  settledBoost: 80,
  boost: 100,
  from: 'build sheet',
  supportedBoost: 107,
  furthestBoost: 143,
  beyondData: false,
  summary: 'The next step of 100.0 kPa keeps every limit that could be projected.',
  projections: [],
  open: [],
  reasoning: [],
};

describe('the next step of an assembled report', () => {
  it('waits for what fails, by name', () => {
    const answers = [answer('mixture', 'fail'), answer('torque', 'warn')];
    const report = assembleReport(parts({ answers, nextStep: step }));
    expect(Report.parse(report).nextStep?.hold).toMatch(/^Not before what fails is mended and logged again: mixture\./);
    const warned = assembleReport(parts({ answers: answers.slice(1), nextStep: step }));
    expect(warned.nextStep).toEqual(step);
  });
});

describe('an assembled report', () => {
  it('fits its schema and says where everything came from', () => {
    const report = assembleReport(parts());
    expect(Report.parse(report)).toEqual(report);
    expect(report.log).toMatchObject({
      rows: 101,
      bytes: 2048,
      duration: 10,
      dialect: { delimiter: ';', skipRows: 2 },
    });
    expect(report.log.dialect).not.toHaveProperty('commentPrefix');
    expect(report.tool).toEqual({ name: 'pullgate', version: '1.2.3' });
    expect(report.channels[0]).toMatchObject({ id: 'engine_speed', column: 'RPM', unit: 'rpm', rate: 10, coverage: 1 });
  });

  it('is null where the log cannot tell', () => {
    expect(assembleReport(parts()).channels[1].rate).toBeNull();
  });

  it('carries no vehicle identification number', () => {
    const text = JSON.stringify(assembleReport(parts()));
    expect(text).not.toContain(VIN);
    expect(text).toContain('shop/(removed).csv');
  });

  it('names no personal column', () => {
    const time = everySample(10, 10);
    const recording = recordingFrom({
      channels: { engine_speed: { time, values: time.map(() => 820), column: 'Driver name' } },
    });
    const report = assembleReport(parts({ drive: segmentDrive(recording, aBuild()) }));
    expect(report.channels[0].column).toBe('(removed)');
  });

  it('gives the standing cautions first and every caution once', () => {
    expect(assembleReport(parts()).cautions).toEqual([...STANDING_CAUTIONS, 'Take care.']);
  });

  it('notes the air pressure, the reader and the mapping', () => {
    expect(assembleReport(parts()).notes).toEqual(
      expect.arrayContaining(['Guess note.', 'As logged.', '2 ragged rows.']),
    );
  });

  it('warns and says so where a required answer is missing or was left out', () => {
    const build = aBuild({ required: ['a', 'b'] });
    const report = assembleReport(parts({ build, answers: [answer('a', 'not-assessed'), answer('c', 'pass')] }));
    expect(report.gate).toBe('warn');
    expect(report.notes).toContain('The build sheet requires an answer from a, and this log gives none.');
    expect(report.notes).toContain('The build sheet requires an answer from b, and this run left it out.');
  });

  it('comes out the same, byte for byte', () => {
    expect(JSON.stringify(assembleReport(parts()))).toBe(JSON.stringify(assembleReport(parts())));
  });
});
