import * as z from 'zod/mini';

const Band = z.nullable(z.tuple([z.number(), z.number()]));

const Cell = z.strictObject({
  source: z.enum(['closed loop', 'full load']),
  idle: z.boolean(),
  /** Engine speed, rpm; null for idle and where the log is too short to tell speeds apart. */
  rpm: Band,
  /** In the unit of the load axis. */
  load: Band,
  /** Fuel that is lacking, %; negative where there is too much. */
  error: z.number(),
  low: z.number(),
  high: z.number(),
  /** Independent readings that the data are worth. */
  samples: z.number(),
  seconds: z.number(),
  /** To multiply the modelled airflow or fuel of the cell by; null where none is suggested. */
  factor: z.nullable(z.number()),
  /** The error is larger than one step may correct. */
  limited: z.boolean(),
  /** Why none is suggested. */
  why: z.optional(z.string()),
});
export type CorrectionReportCell = z.infer<typeof Cell>;

/** Suggested multiplicative corrections by engine speed and load: a proposal for a trained person. */
export const Corrections = z.strictObject({
  axis: z.nullable(z.strictObject({ name: z.string(), unit: z.string() })),
  /** Most that one iteration changes a cell by, %. */
  step: z.strictObject({ more: z.number(), less: z.number(), lessAtFullLoad: z.number(), source: z.string() }),
  cells: z.array(Cell),
  notes: z.array(z.string()),
  caution: z.string(),
});
export type Corrections = z.infer<typeof Corrections>;
