import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { BENCH_BUILD, BENCH_MAPPING, benchLog } from '../bench/bench-log.ts';

export const GOOD_LOG = benchLog();
export const MAPPING = BENCH_MAPPING;
export const BUILD = BENCH_BUILD;

export interface Workspace {
  readonly path: string;
  readonly remove: () => void;
}

/** An empty folder of its own with these files in it; objects are written as JSON. */
export function workspace(files: Record<string, string | Buffer | object>): Workspace {
  const path = mkdtempSync(join(tmpdir(), 'pullgate-test-'));
  for (const [name, content] of Object.entries(files)) {
    const file = join(path, name);
    mkdirSync(dirname(file), { recursive: true });
    const asIs = typeof content === 'string' || Buffer.isBuffer(content);
    writeFileSync(file, asIs ? content : JSON.stringify(content, null, 2));
  }
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

/** The files of a shop with one good log. */
export const SHOP = { 'pullgate.map.json': MAPPING, 'pullgate.build.json': BUILD, 'run.csv': GOOD_LOG };
