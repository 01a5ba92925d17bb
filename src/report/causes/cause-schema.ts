import * as z from 'zod/mini';
import { CHECK_COSTS } from './check-costs.ts';

/** A cause that joins findings of several analysers, with what speaks for and against it. */
export const RankedCause = z.strictObject({
  id: z.string(),
  cause: z.string(),
  /** Why it would show in this way. */
  physics: z.string(),
  /** `likely` from 3 points on, `possible` from 1, else `unlikely`. */
  standing: z.enum(['likely', 'possible', 'unlikely']),
  /** Points for less points against, and one more where it would explain a failure. */
  score: z.int(),
  /** Findings it would explain. */
  explains: z.array(z.string()),
  for: z.array(z.string()),
  against: z.array(z.string()),
  /** What would count, but this log cannot tell. */
  open: z.array(z.string()),
  /** Cheapest first. */
  next: z.array(z.strictObject({ step: z.string(), cost: z.enum(CHECK_COSTS) })),
});
export type RankedCause = z.infer<typeof RankedCause>;
