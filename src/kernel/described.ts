import * as z from 'zod/mini';

/** Gives a schema the words it has in the JSON Schema. A `describe` check would copy the schema, and copies count at every start. */
export function described<S extends z.core.$ZodType>(schema: S, description: string): S {
  z.globalRegistry.add(schema, { description });
  return schema;
}
