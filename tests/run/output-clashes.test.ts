import { linkSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { formatNamed } from '../../src/render/formats.ts';
import type { LogSource } from '../../src/run/find-logs.ts';
import { refuseClashes } from '../../src/run/output-clashes.ts';
import { type OutputWord, planOutputs } from '../../src/run/outputs.ts';
import { workspace } from '../cli/workspace.ts';

const shop = workspace({
  'run.csv': 'x',
  'a/b.csv': 'x',
  'pullgate.map.json': '{}',
  'pullgate.build.json': '{}',
  'own.map.json': '{}',
  'out/x': '',
});
symlinkSync(join(shop.path, 'run.csv'), join(shop.path, 'soft.json'));
linkSync(join(shop.path, 'run.csv'), join(shop.path, 'hard.json'));
symlinkSync(join(shop.path, 'out'), join(shop.path, 'same'));
symlinkSync(join(shop.path, 'nowhere.json'), join(shop.path, 'dangling.json'));
afterAll(() => shop.remove());

const f = (id: string): OutputWord => ({ format: formatNamed(id) });
const o = (out: string): OutputWord => ({ out });
const file = (shown: string): LogSource => ({ kind: 'file', path: join(shop.path, shown), shown });
const clash =
  (words: readonly OutputWord[], logs: readonly string[] = ['run.csv'], map?: string) =>
  (): void =>
    refuseClashes(
      planOutputs(words, [formatNamed('json')], shop.path),
      logs.map(file),
      { map, build: undefined },
      shop.path,
    );

describe('outputs that would be written over what a run reads', () => {
  it.each([
    ['the log', 'run.csv', 'a log'],
    ['the log by another spelling', './a/../run.csv', 'a log'],
    ['the log by its whole path', join(shop.path, 'run.csv'), 'a log'],
    ['a symbolic link to the log', 'soft.json', 'a log'],
    ['a hard link to the log', 'hard.json', 'a log'],
    ['the mapping found by itself', 'pullgate.map.json', 'the mapping'],
    ['the build sheet found by itself', 'a/../pullgate.build.json', 'the build sheet'],
  ])('%s', (_, out, what) => {
    expect(clash([f('json'), o(out)])).toThrow(`this is ${what} of this run and would be written over.`);
  });

  it('a mapping that was given; another that was not may go', () => {
    expect(clash([f('json'), o('own.map.json')], ['run.csv'], 'own.map.json')).toThrow('the mapping');
    expect(clash([f('json'), o('own.map.json')])).not.toThrow();
  });

  it('a log further down the list', () => {
    expect(clash([f('csv'), o('a/b.csv')], ['run.csv', 'a/b.csv'])).toThrow('a/b.csv: this is a log of this run');
  });

  it('a file that a folder would receive', () => {
    expect(clash([f('json'), o('./')], ['pullgate.build.csv'])).toThrow('pullgate.build.json: this is the build sheet');
    expect(clash([f('json'), f('csv'), o('./')])).not.toThrow();
  });

  it('nothing where all goes to standard output', () => {
    expect(clash([f('json')])).not.toThrow();
  });
});

describe('two outputs to one file', () => {
  it.each([
    [[f('json'), o('out/a.json'), f('csv'), o('out/a.json')]],
    [[f('json'), o('out/a.json'), f('csv'), o('out/../same/a.json')]],
    [[f('json'), f('json'), o('out/')]],
    [[f('json'), o('out/run.json'), f('json'), o('same/')]],
    [[f('json'), o('new/deep/a.json'), f('csv'), o('./new/deep/a.json')]],
  ])('%# are refused', (words) => {
    expect(clash(words)).toThrow('two outputs would go into this one file.');
  });

  it('are fine where the files differ', () => {
    expect(clash([f('json'), o('out/a.json'), f('csv'), o('out/a.csv'), f('html'), o('dangling.json')])).not.toThrow();
    expect(clash([f('json'), f('csv'), o('out/')], ['run.csv', 'a/b.csv'])).not.toThrow();
  });
});
