import { parse } from 'csv-parse/sync';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { correctionsCsvRenderer } from '../../src/render/corrections-csv.ts';
import { FORMATS, formatNamed } from '../../src/render/formats.ts';
import type { CorrectionReportCell, Corrections } from '../../src/report/corrections-schema.ts';
import type { Report } from '../../src/report/report-schema.ts';
import { summarise } from '../../src/report/summarise.ts';
import { planOutputs } from '../../src/run/outputs.ts';
import { HOSTILE_TEXTS } from '../support/hostile-report.ts';
import { sampleReport } from '../support/sample-report.ts';

const CELL: CorrectionReportCell = {
  source: 'closed loop',
  idle: false,
  rpm: [2250, 2750],
  load: [35, 45],
  error: -6.2,
  low: -7,
  high: -5.4,
  samples: 12,
  seconds: 9.4,
  factor: 0.95,
  limited: true,
};
const IDLE: CorrectionReportCell = {
  ...CELL,
  idle: true,
  rpm: null,
  load: null,
  factor: null,
  limited: false,
  why: 'too little data',
};
const CAUTION = 'A proposal for a trained person, not a setting: "mend" faults first, then log again.';

const corrections = (cells: CorrectionReportCell[], changes: Partial<Corrections> = {}): Corrections => ({
  axis: { name: 'manifold pressure', unit: 'kPa' },
  step: { more: 5, less: 5, lessAtFullLoad: 2.5, source: 'common practice, no source' },
  cells,
  notes: ['Mend first what the calibration cannot: a leak (likely).', 'Factor = fuel needed / fuel given.'],
  caution: CAUTION,
  ...changes,
});
const reportOf = (file: string, suggested: Corrections | undefined): Report => {
  const report = sampleReport();
  return { ...report, log: { ...report.log, file }, ...(suggested && { corrections: suggested }) };
};
const render = (...reports: Report[]) => correctionsCsvRenderer().end(summarise(reports.map((report) => ({ report }))));
const read = (text: string): Record<string, string>[] => parse(text, { columns: true, record_delimiter: '\r\n' });

describe('corrections as CSV', () => {
  it('are a row a cell, with an empty factor where none is suggested', () => {
    const rows = read(render(reportOf('run.csv', corrections([CELL, IDLE]))));
    expect(rows).toHaveLength(2);
    expect(rows[0]).toMatchObject({
      log: 'run.csv',
      gate: 'fail',
      source: 'closed loop',
      idle: 'false',
      rpm_from: '2250',
      rpm_to: '2750',
      load_from: '35',
      load_to: '45',
      load_name: 'manifold pressure',
      load_unit: 'kPa',
      error_percent: '-6.2',
      low_percent: '-7',
      high_percent: '-5.4',
      factor: '0.95',
      limited: 'true',
      why_none: '',
    });
    expect(rows[1]).toMatchObject({
      idle: 'true',
      rpm_from: '',
      load_unit: '',
      factor: '',
      why_none: 'too little data',
    });
  });

  it('carry caution and notes in every row, whatever is sorted or left out', () => {
    for (const row of read(render(reportOf('run.csv', corrections([CELL, IDLE]))))) {
      expect(row.caution).toBe(CAUTION);
      expect(row.notes).toContain('Mend first what the calibration cannot');
    }
  });

  it('are told apart by the name of the log where there are several', () => {
    const text = render(
      reportOf('a.csv', corrections([CELL])),
      reportOf('none.csv', undefined),
      reportOf('b.csv', corrections([IDLE, CELL])),
    );
    expect(read(text).map(({ log }) => log)).toEqual(['a.csv', 'b.csv', 'b.csv']);
    expect(text.match(/^log,/gm)).toHaveLength(1);
  });

  it('are the header alone where there are none, or no log could be read', () => {
    const header = render(reportOf('run.csv', undefined));
    expect(header.split('\r\n')).toHaveLength(2);
    expect(header).toMatch(/^log,gate,source,idle,rpm_from,rpm_to,.*,factor,limited,why_none,caution,notes,/);
    const nothing = summarise([{ unusable: { file: 'b.csv', error: 'Nothing in it.' } }]);
    expect(correctionsCsvRenderer().end(nothing)).toBe(header);
  });

  // RFC 4180: every record has as many fields as the header, and the header is the first record. Two independent parsers agree.
  it('read alike by two parsers', () => {
    const text = render(reportOf('run.csv', corrections([CELL, IDLE])));
    const other = Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true });
    expect(other.errors).toEqual([]);
    expect(other.data).toEqual(read(text));
  });

  // OWASP, "CSV Injection": cells that begin with = + - @ tab or carriage return.
  it.each(HOSTILE_TEXTS)('hold no cell that runs, split at comma, semicolon or tab: %j', (hostile) => {
    const suggested = corrections([{ ...IDLE, why: hostile }], {
      axis: { name: hostile, unit: hostile },
      caution: hostile,
    });
    const text = render(reportOf(hostile, suggested));
    const asMeant: string[][] = parse(text);
    const otherwise = [/[;\r\n]/, /[\t\r\n]/].flatMap((delimiter) => text.split(delimiter));
    const running = [...asMeant.flat(), ...otherwise].filter(
      (cell) => /^[\s"]*[=+\-@＝＋－＠]/.test(cell) && Number.isNaN(Number(cell)),
    );
    expect(running).toEqual([]);
  });
});

describe('the format', () => {
  it('is taken by name, and by the ending of the file it goes into', () => {
    expect(formatNamed('corrections-csv').title).toContain('trained people');
    const formatOf = (out: string) => planOutputs([{ out }], FORMATS, '/shop')[0]?.format.id;
    expect(formatOf('car.corrections.csv')).toBe('corrections-csv');
    expect(formatOf('car.csv')).toBe('csv');
  });
});
