import { describe, expect, it } from 'vitest';
import { ANALYSERS } from '../../src/analysers/registry.ts';
import { CATALOGUE } from '../../src/channels/catalogue.ts';
import type { SchemaKind } from '../../src/cli/commands/schema.ts';
import { schemaText } from '../../src/cli/schema-text.ts';
import type { JsonSchema } from '../../src/cli/schema-words.ts';
import { runHere } from './run-here.ts';

const schemaOf = (kind: SchemaKind) => JSON.parse(schemaText(kind)) as JsonSchema;

/** Every key that a schema describes, with its path. */
function keysOf(schema: JsonSchema, path = ''): [path: string, key: JsonSchema][] {
  const { properties = {}, items, prefixItems = [], anyOf = [], $defs = {}, additionalProperties } = schema;
  const own = Object.entries(properties).flatMap(([name, key]): [string, JsonSchema][] => [
    [`${path}.${name}`, key],
    ...keysOf(key, `${path}.${name}`),
  ]);
  const more = typeof additionalProperties === 'object' ? [additionalProperties] : [];
  const inside = [items, ...prefixItems, ...anyOf, ...Object.values($defs), ...more];
  return [...own, ...inside.flatMap((one) => (one ? keysOf(one, path) : []))];
}

describe('schema', () => {
  it.each<SchemaKind>(['build', 'map', 'report'])('%s has words for every key', (kind) => {
    const keys = keysOf(schemaOf(kind));
    expect(keys.length).toBeGreaterThan(30);
    expect(keys.filter(([, key]) => !key.description).map(([path]) => path)).toEqual([]);
  });

  it.each<SchemaKind>(['build', 'map', 'report'])(
    '%s is printed, names its dialect and leads nowhere outside',
    async (kind) => {
      const { stdout, status } = await runHere(['schema', kind], '/');
      expect([stdout, status]).toEqual([schemaText(kind), 0]);
      const { $schema, $defs = {} } = schemaOf(kind);
      expect($schema).toBe('https://json-schema.org/draft/2020-12/schema');
      const named = [...stdout.matchAll(/"\$ref": "#\/\$defs\/(\w+)"/g)].map(([, name]) => name);
      expect([...new Set(named)].sort()).toEqual(Object.keys($defs).sort());
      expect(stdout.match(/"\$ref"/g) ?? []).toHaveLength(named.length);
    },
  );

  it('offers every channel by name, and no other', () => {
    const channels = schemaOf('map').properties?.channels;
    expect(Object.keys(channels?.properties ?? {})).toEqual(CATALOGUE.map(({ id }) => id));
    expect(channels?.additionalProperties).toBe(false);
    expect(channels?.properties?.manifold_pressure.description).toContain('Manifold pressure, kPa. SAE J1979: MAP.');
  });

  it('offers limits, analysers and channels in the build sheet, with examples of quantities', () => {
    const { limits, required, expect: expected, engine } = schemaOf('build').properties ?? {};
    expect(Object.keys(limits.properties ?? {})).toEqual(
      ANALYSERS.flatMap(({ meta }) => meta.limits.map(({ id }) => id)),
    );
    expect(limits.properties?.['injector-duty.peak'].description).toContain('warn 85.0 %, fail 92.0 %');
    expect(required.items?.enum).toEqual(ANALYSERS.map(({ meta }) => meta.id));
    expect(expected.properties?.disconnected.items?.enum).toContain('mass_air_flow');
    expect(engine.properties?.displacement.examples).toEqual(['2.0 L']);
  });

  it('report covers one log, several, and a line for one that is unusable', () => {
    const text = schemaText('report');
    for (const kind of ['report/1', 'summary/1', 'unusable/1']) expect(text).toContain(`"${kind}"`);
  });

  it('ends 2 for any other', async () => {
    expect(await runHere(['schema', 'maps'], '/')).toMatchObject({ status: 2, stdout: '' });
  });
});
