import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseBuildSheet } from '../../src/build-sheet/read-build-sheet.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import { UserError } from '../../src/kernel/user-error.ts';
import { anyDamage, damaged } from '../support/any-damage.ts';
import { onlyUserErrors } from '../support/only-user-errors.ts';
import { runs } from '../support/property-runs.ts';

const MAPPING = {
  pullgate: 'map/1',
  title: 'Invented logger',
  dialect: { delimiter: ',', headerRowCount: 1, decimalChar: '.' },
  time: { column: 'Time', unit: 's' },
  channels: {
    engine_speed: 'RPM',
    manifold_pressure: { column: 'Boost', unit: 'psi', reference: 'gauge' },
    lambda: { column: 'Wideband', unit: 'AFR', stoich: 14.7, scale: 1, offset: 0 },
    fuel_system_status: { column: 'Loop', values: { CL: 2 } },
  },
  missing: ['N/A'],
  ignore: ['Latitude'],
};

const BUILD = {
  pullgate: 'build/1',
  title: 'Invented car',
  engine: { displacement: '2.0 L', cylinders: 4, redline: '6900 rpm', idle: '820 rpm' },
  injectors: { flow: '640 cc/min', ratedPressure: '3 bar', deadTime: [['12 V', '1.1 ms']] },
  boost: { wastegateCracking: ['0.3 bar', '0.4 bar'], target: '0.8 bar' },
  limits: { 'injector-duty.peak': { warn: '80 %', fail: '90 %' } },
  expect: { disconnected: ['mass_air_flow'] },
  handback: [{ item: 'Fault memory read', done: true }],
};

const READERS = [
  { name: 'mapping', good: MAPPING, parse: (text: string): unknown => parseMapping(text, 'own.json') },
  { name: 'build sheet', good: BUILD, parse: (text: string): unknown => parseBuildSheet(text, 'own.json') },
];

type Path = readonly (string | number)[];

/** Objects inside a value, by path. */
function objectsIn(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [];
  const inside = Object.entries(value).flatMap(([key, one]) =>
    objectsIn(one, [...path, Array.isArray(value) ? Number(key) : key]),
  );
  return Array.isArray(value) ? inside : [path, ...inside];
}

function at(value: unknown, path: Path): Record<string, unknown> {
  return path.reduce<unknown>((one, key) => (one as Record<string | number, unknown>)[key], value) as Record<
    string,
    unknown
  >;
}

const odd: fc.Arbitrary<unknown> = fc.oneof(
  fc.constantFrom(null, true, 0, -1, 1e308, '', 'x', '1e999', [], {}, [[]], '9'.repeat(300), '__proto__'),
  fc.jsonValue({ maxDepth: 3 }),
);

const oddKey = fc.constantFrom('constructor', 'prototype', 'toString', 'hasOwnProperty', 'valueOf', '', 'x', '0', ' ');

describe.each(READERS)('the $name', ({ good, parse }) => {
  it('accepts the good one', () => expect(() => parse(JSON.stringify(good))).not.toThrow());

  it('damaged in its bytes is read or refused in words', () => {
    fc.assert(
      fc.property(anyDamage, (damages) => {
        onlyUserErrors(() => parse(damaged(Buffer.from(JSON.stringify(good, null, 1)), damages).toString('utf8')));
      }),
      { numRuns: runs(300) },
    );
  }, 60_000);

  it('with any value anywhere is read or refused in words', () => {
    const places = objectsIn(good).flatMap((path) => Object.keys(at(good, path)).map((key) => [path, key] as const));
    fc.assert(
      fc.property(fc.constantFrom(...places), odd, ([path, key], value) => {
        const changed = structuredClone(good);
        at(changed, path)[key] = value;
        onlyUserErrors(() => parse(JSON.stringify(changed)));
      }),
      { numRuns: runs(400) },
    );
  }, 60_000);

  it('any JSON is read or refused in words', () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 5 }), (text) => {
        onlyUserErrors(() => parse(text));
      }),
      { numRuns: runs(200) },
    );
  }, 60_000);

  it('never ignores a key: one too many, or one misspelt, is refused with its name', () => {
    // Keys of these are the user's own words.
    const own = ['values', 'limits'];
    const places = objectsIn(good).filter((path) => !own.includes(String(path.at(-1))));
    fc.assert(
      fc.property(fc.constantFrom(...places), oddKey, odd, (path, key, value) => {
        const changed = structuredClone(good);
        Object.defineProperty(at(changed, path), key, { value, enumerable: true, configurable: true });
        const told = onlyUserErrors(() => parse(JSON.stringify(changed)));
        expect(told).toBeInstanceOf(UserError);
        expect((told as UserError).message).toContain(JSON.stringify(key));
      }),
      { numRuns: runs(200) },
    );
    for (const path of places) {
      for (const key of Object.keys(at(good, path))) {
        const { [key]: value, ...rest } = at(good, path);
        const misspelt = `${key.slice(0, -1)}_${key.slice(-1)}`;
        const renamed = { ...rest, [misspelt]: value };
        const changed = structuredClone(good) as Record<string, unknown>;
        if (path.length > 0) at(changed, path.slice(0, -1))[path[path.length - 1]] = renamed;
        const told = onlyUserErrors(() => parse(JSON.stringify(path.length > 0 ? changed : renamed)));
        expect((told as UserError).message).toContain(misspelt);
      }
    }
  }, 60_000);
});
