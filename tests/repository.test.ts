import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ANALYSERS } from '../src/analysers/registry.ts';
import { CHANNEL_IDS } from '../src/channels/catalogue.ts';
import { analyserTable, TABLE_END, TABLE_START } from './docs/analyser-table.ts';

const ROOT = resolve(import.meta.dirname, '..');
const text = (path: string) => readFileSync(join(ROOT, path), 'utf8');
const metas = ANALYSERS.map((analyser) => analyser.meta);
const under = (folder: string) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' }).map((path) => join(folder, path));

describe('the registry', () => {
  it('lists every analyser of the folder under its file name', () => {
    const inFolder = readdirSync(join(ROOT, 'src/analysers'))
      .filter((name) => /: Analyser = \{/.test(text(join('src/analysers', name))))
      .map((name) => basename(name, '.ts'));
    expect(metas.map((meta) => meta.id).sort()).toEqual(inFolder.sort());
  });

  it.each(metas.map((meta) => [meta.id, meta] as const))('%s says all that people need to know', (id, meta) => {
    expect(meta.title).not.toBe('');
    expect(meta.question).toMatch(/\?$/);
    expect(meta.formula).not.toBe('');
    expect(meta.physics.length).toBeGreaterThan(100);
    // sensor-health alone judges by kind of evidence, not by a number.
    expect(meta.limits.length > 0 || id === 'sensor-health').toBe(true);
    expect(meta.cannotSee.length).toBeGreaterThan(0);
    expect(meta.cautions.length).toBeGreaterThan(0);
    for (const limit of meta.limits) {
      expect(limit.id.startsWith(`${id}.`)).toBe(true);
      expect(limit.source).not.toBe('');
      expect(limit.warn ?? limit.fail).toBeDefined();
    }
    for (const channel of [...meta.needs.flat(), ...meta.helps]) expect(CHANNEL_IDS).toContain(channel);
  });

  it.each(metas.map((meta) => meta.id))('%s has a test of its own', (id) => {
    expect(existsSync(join(ROOT, 'tests/analysers', `${id}.test.ts`))).toBe(true);
  });
});

describe('the README', () => {
  const readme = text('README.md');

  it('shows the analysers and limits as they are; run "npm run docs" where this fails', () => {
    const shown = readme.slice(readme.indexOf(TABLE_START) + TABLE_START.length, readme.indexOf(TABLE_END));
    expect(unpadded(shown)).toBe(unpadded(analyserTable(ANALYSERS)));
  });

  it('names only files that exist', () => {
    const links = [...readme.matchAll(/\]\((?!https?:|#)([^)#]+)/g)].map((match) => match[1]);
    expect(links.length).toBeGreaterThan(0);
    expect(links.filter((link) => !existsSync(join(ROOT, link)))).toEqual([]);
  });

  it('names only npm scripts that exist', () => {
    const { scripts } = JSON.parse(text('package.json')) as { scripts: Record<string, string> };
    const named = [readme, text('DEVELOPERS.md')].flatMap((page) =>
      [...page.matchAll(/npm run ([\w:-]+)/g)].map((match) => match[1]),
    );
    expect(named.filter((name) => !(name in scripts))).toEqual([]);
  });
});

/** Table cells as they read, whatever the formatter padded them with. */
function unpadded(table: string): string {
  return table
    .trim()
    .replace(/ *\| */g, '|')
    .replace(/-+/g, '-');
}

describe('the source', () => {
  const sources = under('src').filter((path) => path.endsWith('.ts'));

  it('keeps every file to one concern: none beyond 300 lines', () => {
    const long = sources
      .map((path) => `${path} ${text(path).split('\n').length}`)
      .filter((line) => Number(line.split(' ')[1]) > 300);
    expect(long).toEqual([]);
  });

  it('has no barrels', () => {
    expect(sources.filter((path) => /(^|[/\\])(index|utils?)\.ts$/.test(path))).toEqual([]);
  });
});
