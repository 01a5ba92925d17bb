import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { cellText, csvRenderer } from '../../src/render/csv.ts';
import { summarise } from '../../src/report/summarise.ts';
import { HOSTILE_TEXTS, hostileReport } from '../support/hostile-report.ts';
import { sampleReport } from '../support/sample-report.ts';

const render = (report = sampleReport()) => csvRenderer().end(summarise([{ report }]));
const read = (text: string): Record<string, string>[] => parse(text, { columns: true, record_delimiter: '\r\n' });

describe('CSV', () => {
  it('is a row a finding, read back by an independent parser', () => {
    const rows = read(render());
    expect(rows.map(({ finding, verdict }) => [finding, verdict])).toEqual([
      ['injector-duty.peak', 'fail'],
      ['boost-creep.rise', 'pass'],
      ['timing-pull.peak', 'not-assessed'],
    ]);
    expect(rows[0]).toMatchObject({
      log: 'bay-2/run.csv',
      gate: 'fail',
      analyser: 'injector-duty',
      measured: '94.3',
      low: '93.1',
      unit: '%',
      warn_at: '85',
      fail_at: '92',
      pull: '1',
      start_s: '46.8',
      to_rpm: '6720',
      log_sha256: 'ab12'.repeat(16),
    });
  });

  it('keeps an analyser without findings and a log that could not be read', () => {
    const [creep] = sampleReport().analysers.slice(1);
    const report = sampleReport({ analysers: [{ ...creep, verdict: 'not-assessed', findings: [] }] });
    const text = csvRenderer().end(summarise([{ report }, { unusable: { file: 'b.csv', error: 'Nothing in it.' } }]));
    expect(read(text).map(({ log, verdict, title }) => [log, verdict, title])).toEqual([
      ['bay-2/run.csv', 'not-assessed', 'Boost stays level after settling.'],
      ['b.csv', 'unusable', 'Nothing in it.'],
    ]);
  });

  it('leaves numbers numbers', () => {
    expect([cellText(-4.2), cellText(0), cellText(1e-7), cellText(undefined)]).toEqual(['-4.2', '0', '1e-7', '']);
  });

  // OWASP, "CSV Injection": cells that begin with = + - @ tab or carriage return.
  it.each(['=1+1', '+1', '-1', '@SUM(1)', '\t=1', '\r=1', '\n=1', ' =1', '"=1', '＝1+1', '\u200b=1'])(
    'puts an apostrophe before %j',
    (text) => {
      const [[cell]] = parse(`${cellText(text)}\r\n`) as string[][];
      expect(cell.startsWith("'") || cell.startsWith('\\u200b')).toBe(true);
    },
  );

  it.each(HOSTILE_TEXTS)('holds no cell that runs, split at comma, semicolon or tab: %j', (hostile) => {
    const text = render(hostileReport(hostile));
    expect(read(text)).toHaveLength(3);
    for (const delimiter of [',', ';', '\t']) {
      const rows: string[][] = parse(text, { delimiter, relax_quotes: true, relax_column_count: true });
      const running = rows.flat().filter((cell) => /^[\s"]*[=+\-@＝＋－＠]/.test(cell) && Number.isNaN(Number(cell)));
      expect(running).toEqual([]);
    }
  });
});
