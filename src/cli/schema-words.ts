import { COMMON_WORDS, REPORT_WORDS } from './report-words.ts';

/** A JSON Schema as far as it is looked into here. */
export interface JsonSchema {
  $schema?: string;
  description?: string;
  examples?: string[];
  enum?: unknown[];
  properties?: Record<string, JsonSchema>;
  required?: string[];
  items?: JsonSchema;
  prefixItems?: JsonSchema[];
  anyOf?: JsonSchema[];
  additionalProperties?: JsonSchema | boolean;
  propertyNames?: JsonSchema;
  $defs?: Record<string, JsonSchema>;
  $ref?: string;
}

/** Keys of the summary of several logs and of an unusable line. */
const BESIDE_REPORTS: Readonly<Record<string, string>> = {
  reports: 'The report of each log, in the order given.',
  unusable: 'Logs that could not be used.',
  file: 'Path of the log as given.',
  error: 'Why it could not be used, and how to mend it.',
};

/** Gives every key of the report's schema its words. */
export function withWords(schema: JsonSchema): JsonSchema {
  describe(schema, []);
  return schema;
}

function describe(schema: JsonSchema, path: readonly string[]): void {
  for (const [key, inner] of Object.entries(schema.properties ?? {})) {
    const here = [...path, key];
    const words = REPORT_WORDS[here.join('.')] ?? COMMON_WORDS[key] ?? BESIDE_REPORTS[key];
    if (words !== undefined) inner.description ??= words;
    describe(inner, here);
  }
  const { items, prefixItems = [], anyOf = [], $defs = {} } = schema;
  for (const inner of [items, ...prefixItems, ...anyOf, ...Object.values($defs)]) if (inner) describe(inner, path);
}
