import { ANALYSERS } from '../analysers/registry.ts';
import { CATALOGUE, type ChannelEntry } from '../channels/catalogue.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { JsonSchema } from './schema-words.ts';

/** The mapping's schema with each channel as a key of its own, so that an editor offers it with its words. */
export function completeMapping(schema: JsonSchema): void {
  const channels = schema.properties?.channels;
  const source = channels?.additionalProperties;
  if (!channels || typeof source !== 'object') throw new Error('the mapping schema has no channels');
  schema.$defs = { ...schema.$defs, MappedChannel: source };
  channels.properties = Object.fromEntries(
    CATALOGUE.map((entry) => [entry.id, { $ref: '#/$defs/MappedChannel', description: channelWords(entry) }]),
  );
  channels.additionalProperties = false;
  delete channels.propertyNames;
}

function channelWords({ title, unit, term }: ChannelEntry): string {
  const standard = term === undefined ? '' : ` SAE J1979: ${term}.`;
  return `${title}, ${unit}.${standard} A column name, or an object with the column and how to read it.`;
}

/** The build sheet's schema with the ids of limits, analysers and channels, and the examples where an editor shows them. */
export function completeBuildSheet(schema: JsonSchema): void {
  const { limits, required, expect } = schema.properties ?? {};
  const limit = limits?.additionalProperties;
  if (typeof limit !== 'object') throw new Error('the build sheet schema has no limits');
  limits.properties = Object.fromEntries(
    ANALYSERS.flatMap(({ meta }) => meta.limits).map(({ id, title, unit, warn, fail }) => {
      const level = (value: number | undefined) => (value === undefined ? 'none' : formatQuantity(value, unit));
      return [id, { ...limit, description: `${title}. Default: warn ${level(warn)}, fail ${level(fail)}.` }];
    }),
  );
  limits.additionalProperties = false;
  delete limits.propertyNames;
  offer(
    required?.items,
    ANALYSERS.map(({ meta }) => meta.id),
  );
  offer(
    expect?.properties?.disconnected?.items,
    CATALOGUE.map(({ id }) => id),
  );
  exemplify(schema);
}

function offer(schema: JsonSchema | undefined, ids: readonly string[]): void {
  if (!schema) throw new Error('the build sheet schema has no such list');
  schema.enum = [...ids];
}

/** `Example: "2.0 L".` at the end of a description, as the keyword that editors complete from. */
function exemplify(schema: JsonSchema): void {
  const example = /Example: "([^"]+)"\.$/.exec(schema.description ?? '')?.[1];
  if (example !== undefined) schema.examples = [example];
  const { properties = {}, items, prefixItems = [], anyOf = [] } = schema;
  for (const inner of [...Object.values(properties), items, ...prefixItems, ...anyOf]) if (inner) exemplify(inner);
}
