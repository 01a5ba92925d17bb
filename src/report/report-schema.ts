import * as z from 'zod/mini';
import { DataTable, Finding, Verdict } from '../analysers/finding.ts';
import { RankedCause } from './causes/cause-schema.ts';
import { Corrections } from './corrections-schema.ts';
import { HandbackFacts } from './handback-schema.ts';
import { NextStepReport } from './next-step-schema.ts';

/** Null where the log cannot tell. */
const maybe = z.nullable(z.number());

const Dialect = z.strictObject({
  delimiter: z.string(),
  quoteChar: z.string(),
  encoding: z.string(),
  decimalChar: z.string(),
  commentPrefix: z.optional(z.string()),
  skipRows: z.int(),
  headerRowCount: z.int(),
});

const ChannelFacts = z.strictObject({
  id: z.string(),
  column: z.string(),
  unit: z.string(),
  /** True updates per second, held repeats seen through. */
  rate: maybe,
  /** Share of the log's rows with a value, 0…1. */
  coverage: z.number(),
  min: maybe,
  max: maybe,
  notes: z.array(z.string()),
});

const PullFacts = z.strictObject({
  id: z.int(),
  start: z.number(),
  end: z.number(),
  rpm: z.tuple([z.number(), z.number()]),
  gear: maybe,
  /** kPa gauge. */
  settledBoost: maybe,
  usable: z.boolean(),
  notes: z.array(z.string()),
});

const AnalyserAnswer = z.strictObject({
  id: z.string(),
  title: z.string(),
  verdict: Verdict,
  summary: z.string(),
  findings: z.array(Finding),
  needs: z.array(z.string()),
  tables: z.optional(z.array(DataTable)),
});
export type AnalyserAnswer = z.infer<typeof AnalyserAnswer>;

const RequiredOpen = z.strictObject({ id: z.string(), title: z.string(), why: z.string(), next: z.array(z.string()) });
export type RequiredOpen = z.infer<typeof RequiredOpen>;

/** One log, assessed. Times are seconds since the start of the log, pressures kPa, engine speeds rpm. */
export const Report = z.strictObject({
  pullgate: z.literal('report/1'),
  tool: z.strictObject({ name: z.literal('pullgate'), version: z.string() }),
  log: z.strictObject({
    file: z.string(),
    sha256: z.string(),
    bytes: z.int(),
    rows: z.int(),
    duration: z.number(),
    dialect: Dialect,
  }),
  mapping: z.strictObject({ title: z.string(), sha256: z.string(), guessed: z.boolean() }),
  build: z.strictObject({ title: z.string(), sha256: z.string() }),
  channels: z.array(ChannelFacts),
  pulls: z.array(PullFacts),
  gate: Verdict,
  analysers: z.array(AnalyserAnswer),
  /** Questions that the build sheet wants answered and that stayed open, and why; absent where there are none. */
  requiredOpen: z.optional(z.array(RequiredOpen)),
  /** What would explain the warnings and failures together, the best supported first. */
  causes: z.optional(z.array(RankedCause)),
  corrections: z.optional(Corrections),
  /** What the next step of boost would do; absent where boost settled in no pull. */
  nextStep: z.optional(NextStepReport),
  /** Parts of the work that a fault in pullgate stopped; absent where all of it was done. */
  faults: z.optional(z.array(z.string())),
  handback: z.array(z.strictObject({ item: z.string(), done: z.boolean() })),
  /** What the handback record says beyond the rest of the report; there where the build sheet has a handback list. */
  handbackRecord: z.optional(HandbackFacts),
  /** What the answers rest on: barometric pressure, assumed units, time health, required questions left open. */
  notes: z.array(z.string()),
  cautions: z.array(z.string()),
});
export type Report = z.infer<typeof Report>;

const Unusable = z.strictObject({ file: z.string(), error: z.string() });

/** Several logs in one run. */
export const Summary = z.strictObject({
  pullgate: z.literal('summary/1'),
  gate: Verdict,
  reports: z.array(Report),
  unusable: z.array(Unusable),
});
export type Summary = z.infer<typeof Summary>;
