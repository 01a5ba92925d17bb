import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { allDemoFiles } from '../../fixtures/generator/demo.ts';
import { allSmallLogs } from '../../fixtures/generator/small-logs.ts';

vi.setConfig({ testTimeout: 60_000 });

const ROOT = join(import.meta.dirname, '..', '..');

const onDisk = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();

describe.each([
  ['demo-logs', allDemoFiles],
  ['fixtures/logs', allSmallLogs],
] as const)('%s', (folder, make) => {
  const files = make();

  it('holds exactly what `npm run fixtures` makes', () => {
    expect(onDisk(join(ROOT, folder))).toEqual([...files.keys()].sort());
  });

  it.each([...files.keys()])('%s has the same bytes', (path) => {
    const target = join(ROOT, folder, path);
    expect(existsSync(target)).toBe(true);
    expect(readFileSync(target).equals(files.get(path) as Uint8Array)).toBe(true);
  });
});

describe('demo logs', () => {
  it('are of a size people meet', () => {
    for (const [path, bytes] of allDemoFiles())
      if (path.endsWith('.csv')) expect(bytes.length, path).toBeGreaterThan(150_000);
  });

  it('say that they are invented', () => {
    for (const [path, bytes] of allDemoFiles())
      if (!path.endsWith('.csv')) expect(Buffer.from(bytes).toString('utf8'), path).toMatch(/invented/i);
  });
});
