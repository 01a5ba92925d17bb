import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ANALYSERS } from '../../src/analysers/registry.ts';
import { runHere } from './run-here.ts';
import { BUILD, workspace } from './workspace.ts';

const empty = workspace({});
const shop = workspace({
  'pullgate.build.json': { ...BUILD, limits: { 'injector-duty.peak': { warn: '80 %', fail: '90 %' } } },
  'slip.json': { ...BUILD, limits: { 'injector-duty.peek': {} } },
});
afterAll(() => {
  empty.remove();
  shop.remove();
});
const run = (args: string, cwd = empty.path) => runHere(args.split(' '), cwd);
const DEFINITIONS = ANALYSERS.flatMap(({ meta }) => meta.limits);

describe('limits', () => {
  it('are the defaults without a build sheet', async () => {
    const { stdout, status } = await run('limits');
    expect(status).toBe(0);
    expect(stdout).toContain('Default limits');
    for (const { id } of DEFINITIONS) expect(stdout).toContain(id);
  });

  it('say what the build sheet put in their place, and where the others came from', async () => {
    const { stdout } = await run('limits', shop.path);
    expect(stdout).toMatch(/^injector-duty\.peak +80\.0 % +90\.0 % +build sheet; default 85\.0 % \/ 92\.0 %$/m);
    expect(stdout).toMatch(/^fuel-trim\.level +8\.0 % +15\.0 % +default: common practice, no source$/m);
    expect((await run(`limits -b ${join(shop.path, 'pullgate.build.json')}`)).stdout).toBe(stdout);
  });

  it('come as JSON, the same as the defaults of the analysers but for the build sheet', async () => {
    const { stdout, stderr } = await run('limits -f json', shop.path);
    const { build, limits } = JSON.parse(stdout);
    expect(stderr).toBe('');
    expect(build).toMatchObject({ file: 'pullgate.build.json', title: BUILD.title });
    expect(limits.map(({ id }: { id: string }) => id)).toEqual(DEFINITIONS.map(({ id }) => id));
    for (const [i, { id, unit, warn = null, fail = null, source }] of DEFINITIONS.entries()) {
      const own = id === 'injector-duty.peak';
      expect(limits[i]).toMatchObject({ id, unit, default: { warn, fail }, from: own ? 'build sheet' : 'default' });
      expect(limits[i]).toMatchObject(own ? { warn: 80, fail: 90, source: 'build sheet' } : { warn, fail, source });
    }
    expect(JSON.parse((await run('limits -f json')).stdout).build).toBeNull();
  });

  it('end 2 for a build sheet that is not there or names no limit', async () => {
    expect(await run('limits -b nope.json')).toMatchObject({ status: 2, stdout: '' });
    const { status, stderr } = await run('limits -b slip.json', shop.path);
    expect(status).toBe(2);
    expect(stderr).toContain('Did you mean "injector-duty.peak"');
    expect(await run('limits -f yaml')).toMatchObject({ status: 2, stdout: '' });
  });
});
