import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { UserError } from '../../src/kernel/user-error.ts';
import { FORMATS, formatNamed } from '../../src/render/formats.ts';
import { fileInFolder, type OutputWord, planOutputs, prepareOutputs } from '../../src/run/outputs.ts';

const cwd = mkdtempSync(join(tmpdir(), 'pullgate-outputs-'));
afterAll(() => rmSync(cwd, { recursive: true }));

const f = (id: string): OutputWord => ({ format: formatNamed(id) });
const o = (out: string): OutputWord => ({ out });
const plan = (...words: OutputWord[]) =>
  planOutputs(words, FORMATS, cwd).map(({ format, to }) =>
    to.kind === 'stdout' ? `${format.id} > stdout` : `${format.id} > ${to.kind} ${to.shown}`,
  );

describe('where formats go', () => {
  it.each([
    [[], ['terminal > stdout']],
    [[f('json')], ['json > stdout']],
    [[o('a.json')], ['json > file a.json']],
    [[o('a.txt')], ['terminal > file a.txt']],
    [[o('a.report')], ['terminal > file a.report']],
    [[o('a.txt'), f('json')], ['json > file a.txt']],
    [
      [f('json'), f('terminal'), o('a.json'), o('a.txt')],
      ['json > file a.json', 'terminal > file a.txt'],
    ],
    [
      [f('terminal'), f('json'), o('a.json')],
      ['terminal > stdout', 'json > file a.json'],
    ],
    [
      [f('json'), o('a.json'), f('terminal')],
      ['json > file a.json', 'terminal > stdout'],
    ],
    [
      [f('json'), f('terminal'), o('reports/')],
      ['json > folder reports/', 'terminal > folder reports/'],
    ],
  ])('%#', (words, outputs) => {
    expect(plan(...words)).toEqual(outputs);
  });

  it('takes a folder that is there without a slash', () => {
    expect(planOutputs([o('.')], FORMATS, cwd)[0].to.kind).toBe('folder');
  });

  it.each([
    [[f('json'), f('terminal')], 'cannot share standard output'],
    [[o('a'), o('b')], '2 places are given for one format'],
    [[f('json'), o('a'), o('b')], '2 places are given for one format'],
  ])('refuses what has no clear place (%#)', (words, told) => {
    expect(() => plan(...words)).toThrow(told);
  });
});

describe('outputs before the work', () => {
  const at = (out: string) => planOutputs([o(out)], FORMATS, cwd);

  it('makes folders', () => {
    expect(() => prepareOutputs(at('new/deep/'))).not.toThrow();
  });

  it('refuses a file in a folder that is not there, and a folder in place of a file', () => {
    expect(() => prepareOutputs(at('nowhere/a.json'))).toThrow(UserError);
    writeFileSync(join(cwd, 'plain'), '');
    expect(() => prepareOutputs(at('plain/'))).toThrow(UserError);
  });
});

describe('a file for each log', () => {
  it('is named by the path of the log, never twice the same', () => {
    const taken = new Set<string>();
    const json = formatNamed('json');
    expect(fileInFolder('out', 'a/run 1.csv', json, taken)).toBe(join('out', 'a-run-1.json'));
    expect(fileInFolder('out', 'a-run-1.CSV', json, taken)).toBe(join('out', 'a-run-1-2.json'));
    expect(fileInFolder('out', '../../etc/x.csv', json, taken)).toBe(join('out', 'etc-x.json'));
  });
});
