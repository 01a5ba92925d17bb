import { describe, expect, it, vi } from 'vitest';
import { runHere } from '../run-here.ts';
import { runProgram } from '../run-program.ts';
import { BUILD, GOOD_LOG, MAPPING, workspace } from '../workspace.ts';
import { COLUMNS, READINGS } from './columns-and-readings.ts';
import type { Mistake } from './mistake.ts';
import { PATHS, WRONG_FILES } from './paths-and-files.ts';
import { SETTINGS } from './settings.ts';

vi.setConfig({ testTimeout: 60_000 });

const MISTAKES: readonly Mistake[] = [...PATHS, ...WRONG_FILES, ...SETTINGS, ...COLUMNS, ...READINGS];

const SHOP = { 'run.csv': GOOD_LOG, 'pullgate.map.json': MAPPING, 'pullgate.build.json': BUILD };

function folderOf(files: Mistake[1]) {
  const all = Object.entries({ ...SHOP, ...files });
  return workspace(Object.fromEntries(all.filter(([, content]) => content !== undefined)) as typeof SHOP);
}

const oneLine = (text: string) => text.replace(/\s+/g, ' ');

describe('a mistake of the first hour is answered with what is wrong and how to mend it', () => {
  it.each(MISTAKES)('%s', async (_name, files, args, exit, says) => {
    const shop = folderOf(files);
    const { status, stdout, stderr } = await runHere(args.split(' '), shop.path);
    shop.remove();
    const told = oneLine(stdout + stderr);
    for (const words of says) expect(told).toContain(words);
    expect(status).toBe(exit);
    if (exit === 2) expect(stdout).toBe('');
    else expect(stderr).toBe('');
    expect(told).not.toMatch(/a fault in pullgate|undefined|\[object|\bNaN\b/);
  });

  it('says the same as a program of its own', () => {
    for (const [name, files, args, exit, says] of MISTAKES.filter((_, i) => i % 25 === 3)) {
      const shop = folderOf(files);
      const { status, stdout, stderr } = runProgram(args.split(' '), { cwd: shop.path });
      shop.remove();
      for (const words of says) expect(oneLine(stdout + stderr), name).toContain(words);
      expect(status, name).toBe(exit);
    }
  });
});
