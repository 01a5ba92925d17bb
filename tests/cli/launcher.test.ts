import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import packageFile from '../../package.json' with { type: 'json' };
import { cleanEnv } from './run-program.ts';
import { workspace } from './workspace.ts';

vi.setConfig({ testTimeout: 60_000 });

const root = resolve(import.meta.dirname, '../..');
const copy = workspace({});
afterAll(() => copy.remove());

const version = () => {
  const args = [join(copy.path, 'bin/pullgate.js'), '--version'];
  const { status, stdout, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8', env: cleanEnv() });
  return { status, stdout, stderr };
};
/** Node 22 and newer keep compiled code by themselves. */
const KEEPS_CODE_ITSELF = Number.parseInt(process.versions.node, 10) >= 22;

/** Whether the copy runs on the code that the build kept; undefined where Node keeps its own. */
function isKeptCodeUsed(): boolean | undefined {
  if (KEEPS_CODE_ITSELF) return undefined;
  const asked = join(copy.path, 'bin/asked.js');
  writeFileSync(
    asked,
    "const script = require('./program.js').runScript(true); console.error(script.cachedDataRejected === false);",
  );
  const { stderr } = spawnSync(process.execPath, [asked, '--version'], { encoding: 'utf8', env: cleanEnv() });
  return stderr === 'true\n';
}

const working = { status: 0, stdout: `${packageFile.version}\n`, stderr: '' };

describe('the launcher', () => {
  it('says what to do where the program is not built', () => {
    cpSync(join(root, 'bin'), join(copy.path, 'bin'), { recursive: true });
    const { status, stdout, stderr } = version();
    expect(stderr).toBe('pullgate: the program is not built. Run "npm ci" in its folder first.\n');
    expect([status, stdout]).toEqual([2, '']);
  });

  it('runs the program with and without the code that the build kept', () => {
    mkdirSync(join(copy.path, 'dist'));
    cpSync(join(root, 'dist/pullgate.cjs'), join(copy.path, 'dist/pullgate.cjs'));
    expect(version()).toEqual(working);
    expect(existsSync(join(root, 'dist/pullgate.cache'))).toBe(true);
    cpSync(join(root, 'dist/pullgate.cache'), join(copy.path, 'dist/pullgate.cache'));
    expect(version()).toEqual(working);
  });

  it('uses the code that the build kept, however the files were copied', () => {
    cpSync(join(root, 'dist'), join(copy.path, 'dist'), { recursive: true });
    utimesSync(join(copy.path, 'dist/pullgate.cache'), 1, 1);
    expect(isKeptCodeUsed()).toBe(KEEPS_CODE_ITSELF ? undefined : true);
  });

  it('uses no code kept of another program', () => {
    const path = join(copy.path, 'dist/pullgate.cache');
    const kept = readFileSync(path);
    kept.write('0123456789abcdef', kept.length - 16, 'latin1');
    writeFileSync(path, kept);
    expect(isKeptCodeUsed()).toBe(KEEPS_CODE_ITSELF ? undefined : false);
    expect(version()).toEqual(working);
  });

  it('is not misled by kept code that is damaged or of another Node', () => {
    for (const content of [Buffer.alloc(0), Buffer.from('no code'), Buffer.alloc(100_000, 7)]) {
      rmSync(join(copy.path, 'dist/pullgate.cache'), { force: true });
      writeFileSync(join(copy.path, 'dist/pullgate.cache'), content);
      expect(version()).toEqual(working);
    }
  });
});
