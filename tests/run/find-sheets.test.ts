import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { findBuildSheet, sheetFinder } from '../../src/run/find-sheets.ts';
import { workspace } from '../cli/workspace.ts';

const shop = workspace({
  'pullgate.build.json': 'outer build',
  'car/pullgate.map.json': 'car map',
  'car/logs/run.csv': '',
  'other/pullgate.build.json': 'other build',
  'my.map.json': 'given map',
});
afterAll(() => shop.remove());

const none = { map: undefined, build: undefined };
const log = (path: string) => ({ kind: 'file', path: join(shop.path, path), shown: path }) as const;

describe('mapping and build sheet of a log', () => {
  it('are the nearest above the log', () => {
    expect(sheetFinder(none, shop.path)(log('car/logs/run.csv'))).toEqual({
      mapping: { text: 'car map', name: 'car/pullgate.map.json' },
      build: { text: 'outer build', name: 'pullgate.build.json' },
    });
    expect(sheetFinder(none, shop.path)(log('other/run.csv'))).toEqual({
      mapping: undefined,
      build: { text: 'other build', name: 'other/pullgate.build.json' },
      mappingsNear: [],
    });
  });

  it('says what lies nearby under another name', () => {
    const here = workspace({
      'pullgate.build.json': 'x',
      'a.map.json': '',
      'b/c.map.json': '',
      'b/pullgate.map.schema.json': '',
      'node_modules/d.map.json': '',
    });
    const run = { kind: 'file', path: join(here.path, 'run.csv'), shown: 'run.csv' } as const;
    expect(sheetFinder(none, here.path)(run).mappingsNear).toEqual(['a.map.json', 'b/c.map.json']);
    here.remove();
  });

  it.each([
    ['utf-8 with a mark', Buffer.from('\ufeff"ü"')],
    ['utf-16le', Buffer.from('\ufeff"ü"', 'utf16le')],
    ['utf-16be', Buffer.from('\ufeff"ü"', 'utf16le').swap16()],
  ])('are read as %s', (_, bytes) => {
    const here = workspace({ 'pullgate.build.json': bytes });
    expect(findBuildSheet(undefined, here.path)?.text.replace('\ufeff', '')).toBe('"ü"');
    here.remove();
  });

  it('in another encoding are refused by name', () => {
    const here = workspace({ 'pullgate.build.json': Buffer.from('"\xfc"', 'latin1') });
    expect(() => findBuildSheet(undefined, here.path)).toThrow(
      'pullgate.build.json: this is not UTF-8 text. Save it as',
    );
    here.remove();
  });

  it('are those given, seen from the working directory', () => {
    const find = sheetFinder({ map: '../my.map.json', build: '../other/pullgate.build.json' }, join(shop.path, 'car'));
    const { mapping, build } = find(log('car/logs/run.csv'));
    expect([mapping?.text, build.text]).toEqual(['given map', 'other build']);
  });

  it('are sought from the working directory for standard input', () => {
    const { build } = sheetFinder(none, join(shop.path, 'other'))({ kind: 'stdin', shown: 'standard input' });
    expect(build.text).toBe('other build');
  });

  it('cannot be done without a build sheet', () => {
    const empty = workspace({});
    const find = sheetFinder(none, empty.path);
    expect(() => find({ kind: 'stdin', shown: 'standard input' })).toThrow('pullgate init');
    expect(findBuildSheet(undefined, empty.path)).toBeUndefined();
    empty.remove();
  });

  it('that cannot be read are told by name', () => {
    expect(() => findBuildSheet('nope.json', shop.path)).toThrow('nope.json: there is no such file or folder.');
  });
});
