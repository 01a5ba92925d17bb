import * as z from 'zod/mini';

/** Null where the log cannot tell. */
const maybe = z.nullable(z.number());
const maybeText = z.nullable(z.string());

const SurveyColumn = z.strictObject({
  column: z.string(),
  channel: maybeText,
  /** How sure the guess is, 0…1; null where a mapping says it. */
  confidence: maybe,
  why: maybeText,
  /** As logged: of the header, the mapping, or by the numbers. */
  unit: maybeText,
  unitFrom: z.nullable(z.enum(['mapping', 'header', 'values', 'assumed'])),
  cells: z.enum(['number', 'clock', 'timestamp', 'text']),
  /** True updates per second, held repeats seen through. */
  rate: maybe,
  /** Rows per second with a value. */
  rowRate: maybe,
  /** Rows for which a value is repeated; 1 where every row is an update. */
  heldRows: z.number(),
  /** Share of the rows with a value, 0…1. */
  coverage: z.number(),
  min: maybe,
  max: maybe,
  /** Smallest step between distinct values. */
  step: maybe,
  states: z.array(z.string()),
  faults: z.array(
    z.strictObject({ kind: z.enum(['empty', 'dead', 'stuck', 'saturated', 'implausible']), text: z.string() }),
  ),
  /** The course over the log in equal stretches, 0 (lowest) to 1 (highest). */
  trace: z.array(maybe),
});
export type SurveyColumn = z.infer<typeof SurveyColumn>;

const SurveyTime = z.strictObject({
  column: maybeText,
  unit: maybeText,
  confidence: maybe,
  why: maybeText,
  duration: maybe,
  interval: maybe,
  repeats: z.int(),
  backward: z.int(),
  farthestBack: z.number(),
  gaps: z.int(),
  longestGap: z.number(),
  jitter: maybe,
  stretches: z.int(),
  polling: z.strictObject({
    kind: z.enum(['all', 'held', 'in turn', 'unknown']),
    moving: z.int(),
    perRow: z.int(),
    blank: z.boolean(),
    /** Rows in which a column is usually refreshed once. */
    roundRows: z.number(),
  }),
  notes: z.array(z.string()),
});
export type SurveyTime = z.infer<typeof SurveyTime>;

const SurveyAnalyser = z.strictObject({
  id: z.string(),
  title: z.string(),
  /** yes: all it needs is here; limited: here, but slow or never shown; no: something it needs is missing. */
  served: z.enum(['yes', 'limited', 'no']),
  reasons: z.array(z.string()),
  /** Channels, any one of each entry. */
  lacking: z.array(z.array(z.string())),
});
export type SurveyAnalyser = z.infer<typeof SurveyAnalyser>;

const WantedChannel = z.strictObject({
  channel: z.string(),
  title: z.string(),
  /** Analysers that it would let answer by itself, or together with others that are missing. */
  opens: z.array(z.string()),
  helps: z.array(z.string()),
});
export type WantedChannel = z.infer<typeof WantedChannel>;

/** What is in a log, before it is trusted. */
export const Survey = z.strictObject({
  pullgate: z.literal('survey/1'),
  tool: z.strictObject({ name: z.literal('pullgate'), version: z.string() }),
  log: z.strictObject({
    file: z.string(),
    sha256: z.string(),
    bytes: z.int(),
    rows: z.int(),
    firstDataLine: z.int(),
    layout: z.enum(['wide', 'long']),
    dialect: z.strictObject({
      delimiter: z.string(),
      quoteChar: z.string(),
      encoding: z.string(),
      decimalChar: z.string(),
      commentPrefix: z.optional(z.string()),
      skipRows: z.int(),
      headerRowCount: z.int(),
    }),
  }),
  mapping: z.strictObject({ title: z.string(), guessed: z.boolean() }),
  time: SurveyTime,
  columns: z.array(SurveyColumn),
  /** Position, names, plates: left out and never named. */
  personalColumns: z.int(),
  questions: z.array(z.string()),
  doubts: z.array(z.string()),
  analysers: z.array(SurveyAnalyser),
  wanted: z.array(WantedChannel),
  notes: z.array(z.string()),
});
export type Survey = z.infer<typeof Survey>;
