import { describe, expect, it } from 'vitest';
import { FORMATS } from '../../src/render/formats.ts';
import { findLogs } from '../../src/run/find-logs.ts';
import { isLogName } from '../../src/run/log-name.ts';
import { fileInFolder } from '../../src/run/outputs.ts';
import { workspace } from '../cli/workspace.ts';

const tables = FORMATS.filter(({ extension }) => extension.endsWith('csv'));

describe('the name of a log', () => {
  it.each(tables.map((format) => [format.id, format] as const))(
    'is not that of a table that %s writes',
    (_, format) => {
      const written = fileInFolder('', 'bay 2/run.csv', format, new Set());
      expect(written).toMatch(/^bay-2-run\..*csv$/);
      expect(isLogName(written)).toBe(false);
      expect(isLogName(`summary.${format.inFolder ?? format.extension}`)).toBe(false);
    },
  );

  it.each(['run.csv', 'RUN.CSV', 'my-findings.csv', 'corrections.2.csv'])('may be %s', (name) => {
    expect(isLogName(name)).toBe(true);
  });

  it.each(['corrections.csv', 'findings.csv', 'a.corrections.csv', 'a.FINDINGS.CSV', 'run.txt'])(
    'is not %s',
    (name) => {
      expect(isLogName(name)).toBe(false);
    },
  );

  it('counts in a searched folder, and not where a file is named', async () => {
    const shop = workspace({
      'run.csv': 'x',
      'run.corrections.csv': 'x',
      'corrections.csv': 'x',
      'run.findings.csv': 'x',
    });
    const shown = async (...args: string[]) => (await findLogs(args, shop.path)).map((log) => log.shown);
    expect(await shown('.')).toEqual(['run.csv']);
    expect(await shown('corrections.csv')).toEqual(['corrections.csv']);
    shop.remove();
  });
});
