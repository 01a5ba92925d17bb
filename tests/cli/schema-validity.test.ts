import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { parse } from 'jsonc-parser';
import { describe, expect, it } from 'vitest';
import type { SchemaKind } from '../../src/cli/commands/schema.ts';
import { schemaText } from '../../src/cli/schema-text.ts';
import { BUILD_STARTER } from '../../src/cli/starter-build.ts';
import { MAP_STARTER } from '../../src/cli/starter-map.ts';
import { runHere } from './run-here.ts';

// Oracle: ajv 8, a validator for JSON Schema draft 2020-12 (json-schema.org), with the draft's own meta-schema.
const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, allErrors: true });
const schemas = Object.fromEntries(
  (['build', 'map', 'report'] as const).map((kind) => [kind, JSON.parse(schemaText(kind))]),
);
const isValid = (kind: SchemaKind, data: unknown) => ajv.validate(schemas[kind], data) || ajv.errorsText();

const DEMO = resolve(import.meta.dirname, '../../demo-logs');
const CARS = [
  'coupe-hand-set-boost',
  'estate-lean-at-the-limit',
  'hatchback-first-base-run',
  'saloon-knock-on-one-cylinder',
];
const settings = (car: string, name: string) => parse(readFileSync(join(DEMO, car, name), 'utf8'));

describe('printed JSON Schemas', () => {
  it.each<SchemaKind>(['build', 'map', 'report'])('%s obeys the meta-schema of draft 2020-12', (kind) => {
    expect(ajv.validateSchema(schemas[kind]) || ajv.errorsText()).toBe(true);
  });

  it.each(CARS)('mapping and build sheet of %s are valid', (car) => {
    expect(isValid('map', settings(car, 'pullgate.map.json'))).toBe(true);
    expect(isValid('build', settings(car, 'pullgate.build.json'))).toBe(true);
  });

  it('the starters are valid once they are filled in', () => {
    const build = parse(BUILD_STARTER);
    expect(isValid('build', build)).toBe('data/engine/cylinders must be >= 1');
    const engine = { displacement: '2.0 L', cylinders: 4, redline: '6900 rpm' };
    expect(isValid('build', { ...build, engine })).toBe(true);
    expect(isValid('map', parse(MAP_STARTER))).toBe(true);
  });

  it('every demo report, and the summary of all, is valid', async () => {
    const { stdout } = await runHere(['check', DEMO, '-f', 'json', '--fail-on', 'never'], '/');
    const summary = JSON.parse(stdout);
    expect(summary.reports.length).toBeGreaterThanOrEqual(CARS.length);
    expect(isValid('report', summary)).toBe(true);
    for (const report of summary.reports) expect(isValid('report', report)).toBe(true);
  });

  it('a misspelt key, a bare number and an unknown channel are told', () => {
    const [car] = CARS;
    const build = settings(car, 'pullgate.build.json');
    const map = settings(car, 'pullgate.map.json');
    expect(isValid('build', { ...build, engin: {} })).toContain('additional properties');
    expect(isValid('build', { ...build, engine: { ...build.engine, redline: 6900 } })).toContain('/engine/redline');
    expect(isValid('map', { ...map, channels: { ...map.channels, engine_sped: 'x' } })).toContain('/channels');
  });
});
