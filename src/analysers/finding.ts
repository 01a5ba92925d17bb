import * as z from 'zod/mini';

/** Where a finding, an analyser or the gate stands. `not-assessed` is never a pass. */
export const Verdict = z.enum(['pass', 'warn', 'fail', 'not-assessed']);
export type Verdict = z.infer<typeof Verdict>;

export const Place = z.strictObject({
  pull: z.optional(z.int()),
  start: z.number(),
  end: z.number(),
  rpm: z.optional(z.tuple([z.number(), z.number()])),
});
export type Place = z.infer<typeof Place>;

export const Cause = z.strictObject({ cause: z.string(), for: z.array(z.string()), against: z.array(z.string()) });
export type Cause = z.infer<typeof Cause>;

export const Finding = z.strictObject({
  id: z.string(),
  verdict: Verdict,
  title: z.string(),
  measured: z.optional(
    z.strictObject({
      value: z.number(),
      unit: z.string(),
      low: z.optional(z.number()),
      high: z.optional(z.number()),
    }),
  ),
  limit: z.optional(
    z.strictObject({
      warn: z.optional(z.number()),
      fail: z.optional(z.number()),
      unit: z.string(),
      source: z.string(),
    }),
  ),
  reasoning: z.array(z.string()),
  where: z.array(Place),
  detectable: z.optional(z.string()),
  causes: z.array(Cause),
  next: z.array(z.string()),
});
export type Finding = z.infer<typeof Finding>;

/** Rows worth showing whole: trim cells, one row a pull. Cells are texts or numbers in the column's unit; null where there is too little data. */
export const DataTable = z.strictObject({
  id: z.string(),
  title: z.string(),
  columns: z.array(z.strictObject({ name: z.string(), unit: z.string() })),
  rows: z.array(z.array(z.union([z.string(), z.number(), z.null()]))),
});
export type DataTable = z.infer<typeof DataTable>;
