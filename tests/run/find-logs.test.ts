import { mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { findLogs } from '../../src/run/find-logs.ts';
import { workspace } from '../cli/workspace.ts';

const shop = workspace({
  'b.csv': 'x',
  'a/2.CSV': 'x',
  'a/1.csv': 'x',
  'a/notes.txt': 'x',
  'a/.hidden.csv': 'x',
  '.git/x.csv': 'x',
  'node_modules/x.csv': 'x',
  'empty/notes.txt': 'x',
  'odd [1].csv': 'x',
});
symlinkSync(shop.path, join(shop.path, 'a', 'loop'));
mkdirSync(join(shop.path, 'folder.csv'));
afterAll(() => shop.remove());

const shown = async (...args: string[]) => (await findLogs(args, shop.path)).map((log) => log.shown);
const errors = async (...args: string[]) =>
  (await findLogs(args, shop.path)).flatMap((log) => (log.kind === 'none' ? [log.error.message] : []));

describe('finding logs', () => {
  it('searches folders for *.csv, in order, without hidden and linked folders', async () => {
    expect(await shown('.')).toEqual(['a/1.csv', 'a/2.CSV', 'b.csv', 'odd [1].csv']);
    expect(await shown('a')).toEqual(['a/1.csv', 'a/2.CSV']);
  });

  it('keeps the order of the arguments and takes each log once', async () => {
    expect(await shown('b.csv', 'a', './b.csv', join(shop.path, 'b.csv'))).toEqual(['b.csv', 'a/1.csv', 'a/2.CSV']);
  });

  it('takes a file whatever its name', async () => {
    expect(await shown('a/notes.txt', 'odd [1].csv')).toEqual(['a/notes.txt', 'odd [1].csv']);
  });

  it('expands patterns that the shell left alone', async () => {
    expect(await shown('**/*.csv')).toEqual(expect.arrayContaining(['a/1.csv', 'b.csv']));
    expect(await errors('no-*.csv')).toEqual([expect.stringContaining('no file matches this pattern')]);
  });

  it('reads standard input once', async () => {
    expect(await findLogs(['-', '-'], shop.path)).toEqual([{ kind: 'stdin', shown: 'standard input' }]);
  });

  it('says what is missing and what is near', async () => {
    expect(await errors('a/1.cvs', 'empty')).toEqual([
      'a/1.cvs: there is no such file or folder. Did you mean "1.csv"?',
      'empty: there is no *.csv file in this folder or below it. If notes.txt is the log, name it: empty/notes.txt.',
    ]);
  });

  it('never shows an absolute path', async () => {
    expect(await shown(join(shop.path, 'a', '1.csv'))).toEqual(['a/1.csv']);
    expect((await findLogs([join(shop.path, 'b.csv')], join(shop.path, 'a')))[0].shown).toBe('b.csv');
  });
});
