import * as z from 'zod/mini';
import { BuildSheetSchema } from '../build-sheet/build-sheet-schema.ts';
import { MappingSchema } from '../channels/mapping-schema.ts';
import { Report, Summary } from '../report/report-schema.ts';
import type { SchemaKind } from './commands/schema.ts';
import { completeBuildSheet, completeMapping } from './schema-completions.ts';
import { type JsonSchema, withWords } from './schema-words.ts';

/** A line of `ndjson` in the place of a log that could not be used. */
const UnusableLine = z.strictObject({ pullgate: z.literal('unusable/1'), file: z.string(), error: z.string() });

function settingsSchema(schema: z.core.$ZodType, complete: (schema: JsonSchema) => void): JsonSchema {
  const body = z.toJSONSchema(schema, { io: 'input' }) as JsonSchema;
  complete(body);
  return body;
}

function reportSchema(): JsonSchema {
  const names = z.registry<{ id: string }>();
  names.add(Report, { id: 'Report' });
  const anyReport = z.union([Report, Summary, UnusableLine]);
  return withWords(z.toJSONSchema(anyReport, { io: 'input', metadata: names }) as JsonSchema);
}

const SCHEMAS: Readonly<Record<SchemaKind, readonly [title: string, make: () => JsonSchema]>> = {
  build: ['pullgate build sheet', () => settingsSchema(BuildSheetSchema, completeBuildSheet)],
  map: ['pullgate mapping', () => settingsSchema(MappingSchema, completeMapping)],
  report: ['pullgate report: one log, the summary of several, or an ndjson line', reportSchema],
};

/** The JSON Schema (2020-12) of a file, with what an editor needs to complete and explain every key. */
export function schemaText(kind: SchemaKind): string {
  const [title, make] = SCHEMAS[kind];
  const { $schema, ...body } = make();
  return `${JSON.stringify({ $schema, title, ...body }, null, 2)}\n`;
}
