import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import packageFile from '../../package.json' with { type: 'json' };
import { ANALYSERS } from '../../src/analysers/registry.ts';
import { parseBuildSheet } from '../../src/build-sheet/read-build-sheet.ts';
import { CHANNEL_IDS } from '../../src/channels/catalogue.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import { runProgram } from './run-program.ts';
import { workspace } from './workspace.ts';

vi.setConfig({ testTimeout: 60_000 });

const empty = workspace({});
afterAll(() => empty.remove());
const run = (args: string, cwd = empty.path) => runProgram(args.split(' '), { cwd });

describe('help and version', () => {
  it('go to standard output and end 0', () => {
    const help = run('--help');
    expect(help).toMatchObject({ status: 0, stderr: '' });
    for (const command of ['check', 'explain', 'limits', 'init', 'schema'])
      expect(help.stdout).toContain(`  ${command}`);
    expect(help.stdout).toContain('1  the gate is closed');
    expect(run('check --help').stdout).toContain('terminal (text for people), json');
    expect(run('--version').stdout).toBe(`${packageFile.version}\n`);
  });
});

describe('explain', () => {
  it('lists every analyser with its question', () => {
    const { stdout, status } = run('explain');
    for (const { meta } of ANALYSERS) expect(stdout.replace(/\n +/g, ' ')).toContain(meta.question);
    expect(status).toBe(0);
  });

  it('tells an analyser, a limit and a finding', () => {
    const analyser = run('explain injector-duty').stdout;
    for (const label of ['Question', 'Formula', 'Physics', 'Needs', 'Limits', 'Cannot see', 'Cautions']) {
      expect(analyser).toMatch(new RegExp(`^${label} {2}`, 'm'));
    }
    const limit = run('explain injector-duty.peak').stdout.replace(/\s+/g, ' ');
    expect(limit).toContain('warn at 85.0 %, fail at 92.0 %');
    expect(limit).toContain('"limits": { "injector-duty.peak": { "warn": "85 %", "fail": "92 %" } }');
    expect(run('explain boost-creep.taper').stdout).toMatch(/^Boost creep/);
  });

  it('names near ids for a slip', () => {
    expect(run('explain injector-dutty')).toMatchObject({ status: 2, stdout: '' });
    expect(run('explain injector-dutty').stderr).toContain('Did you mean "injector-duty"');
    expect(run('explain injector-duty.peek').stderr).toContain('Did you mean "injector-duty.peak"?');
  });
});

describe('init', () => {
  it('writes starters that hold once they are filled in, and never before', () => {
    const here = workspace({});
    expect(run('init', here.path).status).toBe(0);
    const build = readFileSync(join(here.path, 'pullgate.build.json'), 'utf8');
    const map = readFileSync(join(here.path, 'pullgate.map.json'), 'utf8');
    for (const [text, kind] of [
      [build, 'build'],
      [map, 'map'],
    ]) {
      const [, named] = /"\$schema": "\.\/([\w.]+)"/.exec(text) ?? [];
      expect(readFileSync(join(here.path, named), 'utf8')).toBe(run(`schema ${kind}`).stdout);
    }
    expect(() => parseBuildSheet(build, 'starter')).toThrow(/3 problems/);
    const filled = build
      .replace('"FILL IN, for example 2.0 L"', '"1.8 L"')
      .replace('"cylinders": 0', '"cylinders": 4')
      .replace('"FILL IN, for example 6900 rpm"', '"6700 rpm"');
    expect(parseBuildSheet(filled, 'starter').engine).toMatchObject({ displacementL: 1.8, redlineRpm: 6700 });
    const everything = filled.replace(/^( *)\/\/ (?=["}]| {2}")/gm, '$1');
    expect(everything).not.toBe(filled);
    expect(parseBuildSheet(everything, 'starter').boost.ceilingKpa).toBeCloseTo(110, 6);

    expect(parseMapping(map, 'starter').channels).toHaveProperty('engine_speed');
    let column = 0;
    const named = () => `"column ${++column}",`;
    const mapped = map
      .replace(/^( *)\/\/ (?=")/gm, '$1')
      .replace(/"column",/g, named)
      .replaceAll('FILL IN: ', '');
    const { channels } = parseMapping(mapped.replace(/"unit": s,.*\n/, '\n'), 'starter');
    expect(Object.keys(channels).sort()).toEqual([...CHANNEL_IDS].sort());
    here.remove();
  });

  it('writes over nothing unless told to', () => {
    const here = workspace({ 'pullgate.map.json': 'mine' });
    const refused = run('init', here.path);
    expect(refused).toMatchObject({ status: 2, stdout: '' });
    expect(refused.stderr).toContain('pullgate.map.json: already there; nothing was written.');
    expect(readFileSync(join(here.path, 'pullgate.map.json'), 'utf8')).toBe('mine');
    expect(run('init --force', here.path).status).toBe(0);
    expect(readFileSync(join(here.path, 'pullgate.map.json'), 'utf8')).toContain('map/1');
    here.remove();
  });
});
