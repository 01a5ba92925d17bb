import { describe, expect, it } from 'vitest';
import { effectiveLimits } from '../../src/build-sheet/effective-limits.ts';
import type { LimitDefinition } from '../../src/build-sheet/limit.ts';
import { parseBuildSheet } from '../../src/build-sheet/read-build-sheet.ts';

const define = (id: string, unit: string, warn: number | undefined, fail: number | undefined): LimitDefinition => ({
  id,
  title: id,
  unit,
  warn,
  fail,
  source: 'common practice, no source',
});

const DEFINITIONS = [
  define('injector-duty.peak', '%', 85, 92),
  define('boost-spike.height', 'kPa', 7, 20),
  define('timing-pull.repeat', 'deg', undefined, 3),
  define('mixture.lean-error', 'ratio', 0.03, 0.06),
  define('trouble-codes.count', 'count', undefined, 1),
  define('charge-temperature.peak', 'degC', 60, 75),
];

const limits = (written: object) => {
  const sheet = {
    pullgate: 'build/1',
    engine: { displacement: '2 L', cylinders: 4, redline: '7000 rpm' },
    limits: written,
  };
  return effectiveLimits(DEFINITIONS, parseBuildSheet(JSON.stringify(sheet), 'b.json'), 'b.json');
};

describe('effectiveLimits', () => {
  it('without overrides gives the definitions', () => {
    const table = limits({});
    expect(table.size).toBe(DEFINITIONS.length);
    expect(table.get('injector-duty.peak')).toEqual({ ...DEFINITIONS[0], from: 'default' });
  });

  it.each([
    ['injector-duty.peak', { warn: '80 %', fail: '90 %' }, 80, 90],
    ['injector-duty.peak', { warn: '80 %' }, 80, 92],
    ['boost-spike.height', { warn: '1 psi', fail: '0.3 bar' }, 6.894757293168361, 30],
    ['timing-pull.repeat', { fail: '4 deg' }, undefined, 4],
    ['mixture.lean-error', { warn: '0.05' }, 0.05, 0.06],
    ['trouble-codes.count', { fail: '2' }, undefined, 2],
    ['charge-temperature.peak', { warn: '131 degF' }, 55, 75],
  ])('%s %o', (id, written, warn, fail) => {
    const limit = limits({ [id]: written }).get(id);
    expect(limit?.from).toBe('build sheet');
    if (warn === undefined) expect(limit?.warn).toBeUndefined();
    else expect(limit?.warn).toBeCloseTo(warn, 9);
    expect(limit?.fail).toBeCloseTo(fail, 9);
  });

  it.each([
    [
      { 'injector-duty.peek': { warn: '80 %' } },
      'b.json, limits: there is no limit "injector-duty.peek". Did you mean "injector-duty.peak"?',
    ],
    [{ zzz: { warn: '80 %' } }, 'b.json, limits: there is no limit "zzz". "pullgate limits" lists them.'],
    [
      { 'injector-duty.peak': { warn: '80 kPa' } },
      'b.json, limits["injector-duty.peak"].warn: "80 kPa" is no percent. Write it as for example "85 %".',
    ],
    [
      { 'injector-duty.peak': { warn: '80' } },
      'limits["injector-duty.peak"].warn: "80" has no unit. Write it as for example "85 %".',
    ],
    [
      { 'injector-duty.peak': { warn: '95 %' } },
      'b.json, limits["injector-duty.peak"]: warn at 95 % lies above fail at 92 % (the default). Write both, the lower one as warn.',
    ],
    [
      { 'injector-duty.peak': { warn: '95 %', fail: '90 %' } },
      'warn at 95 % lies above fail at 90 %. Write both, the lower one as warn.',
    ],
    [{ 'boost-spike.height': { warn: '7 kPa abs' } }, 'limits["boost-spike.height"].warn: "7 kPa abs" is absolute.'],
    [{ 'injector-duty.peak': { warm: '80 %' } }, '"warm" is not a key that can stand here. Did you mean "warn"?'],
    [
      { 'injector-duty.peak': { warn: 80 } },
      'found the number 80. Write it as a text with its unit, for example "80 %"',
    ],
    [
      { 'injector-duty.peak': { warn: '0.8 %' } },
      '"0.8 %" is less than one per cent, and the default is 85 %. If it is a share of one, write "80 %".',
    ],
    [{ 'boost-spike.height': { fail: '0 kPa' } }, 'limits["boost-spike.height"].fail: "0 kPa" trips on every log.'],
    [{ toString: { warn: '80 %' } }, 'there is no limit "toString".'],
  ])('%o is refused', (written, message) => {
    expect(() => limits(written)).toThrow(message);
  });
});
