import * as z from 'zod/mini';

/** What a handback record needs beside the report itself. */
export const HandbackFacts = z.strictObject({
  /** The car and its build, one line each. */
  car: z.array(z.strictObject({ name: z.string(), value: z.string() })),
  limits: z.array(
    z.strictObject({
      id: z.string(),
      warn: z.optional(z.number()),
      fail: z.optional(z.number()),
      unit: z.string(),
      from: z.enum(['default', 'build sheet']),
    }),
  ),
});
export type HandbackFacts = z.infer<typeof HandbackFacts>;
