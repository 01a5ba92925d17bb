import * as z from 'zod/mini';
import { NEXT_STEP_IDS } from '../drive/next-step/type.ts';

const Id = z.enum(NEXT_STEP_IDS);

/** 90 % interval; null where there is no end to it, such as a fuel pressure that boost has used up. */
const Interval = z.strictObject({
  value: z.nullable(z.number()),
  low: z.nullable(z.number()),
  high: z.nullable(z.number()),
});

const Projection = z.strictObject({
  id: Id,
  title: z.string(),
  unit: z.string(),
  now: Interval,
  next: Interval,
  limit: z.optional(z.strictObject({ value: z.number(), source: z.string() })),
  standing: z.enum(['below', 'possible', 'at-or-above', 'no-limit']),
  /**
   * Settled boost at which the value, and the upper end of its interval, meet the limit; null where they do not as far as the log is carried, which
   * is `beyond`: if the limit is met at all, then above that boost.
   */
  allows: z.optional(
    z.strictObject({
      boost: z.nullable(z.number()),
      surely: z.nullable(z.number()),
      beyond: z.optional(z.number()),
    }),
  ),
  reasoning: z.array(z.string()),
});

/** What the next step of boost would do. Boost in kPa gauge. */
export const NextStepReport = z.strictObject({
  settledBoost: z.number(),
  boost: z.number(),
  from: z.enum(['build sheet', 'proposed']),
  /** Up to here the log supports a projection. */
  supportedBoost: z.number(),
  /** Up to here limits were looked for. */
  furthestBoost: z.number(),
  beyondData: z.boolean(),
  /** Why the step has to wait, whatever the projections say; absent where nothing fails. */
  hold: z.optional(z.string()),
  summary: z.string(),
  first: z.optional(z.strictObject({ id: Id, boost: z.number(), surely: z.nullable(z.number()) })),
  projections: z.array(Projection),
  open: z.array(z.strictObject({ id: Id, title: z.string(), why: z.string(), needs: z.array(z.string()) })),
  reasoning: z.array(z.string()),
});
export type NextStepReport = z.infer<typeof NextStepReport>;
