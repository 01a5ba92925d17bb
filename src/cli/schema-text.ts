import * as z from 'zod/mini';
import { BuildSheetSchema } from '../build-sheet/build-sheet-schema.ts';
import { MappingSchema } from '../channels/mapping-schema.ts';
import { Report, Summary } from '../report/report-schema.ts';
import type { SchemaKind } from './commands/schema.ts';

const SCHEMAS = {
  build: { title: 'pullgate build sheet', schema: BuildSheetSchema },
  map: { title: 'pullgate mapping', schema: MappingSchema },
  report: { title: 'pullgate report', schema: z.union([Report, Summary]) },
} as const;

export function schemaText(kind: SchemaKind): string {
  const { title, schema } = SCHEMAS[kind];
  const { $schema, ...body } = z.toJSONSchema(schema, { io: 'input' });
  return `${JSON.stringify({ $schema, title, ...body }, null, 2)}\n`;
}
