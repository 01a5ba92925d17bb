import type { Analyser } from '../analysers/analyser.ts';
import { UserError } from '../kernel/user-error.ts';
import { redactText } from '../report/redact.ts';
import type { Outcome } from '../report/summarise.ts';
import { assessLog, assessLogWithCourses, assessLogWithTraces } from './assess-log.ts';
import { fileChunks, stdinChunks } from './file-chunks.ts';
import { fileError } from './file-error.ts';
import type { LogSource } from './find-logs.ts';
import type { Sheets } from './find-sheets.ts';

export interface CheckSettings {
  readonly version: string;
  readonly sheetsFor: (log: LogSource) => Sheets;
  readonly analysers: readonly Analyser[];
  readonly codes: readonly string[];
  /** Whether a format draws the pulls. */
  readonly traces?: boolean;
  /** Whether a format draws their courses in text. */
  readonly courses?: boolean;
}

/** Assesses log after log, in the order given. An unusable one is told in its place and the rest goes on. */
export function* checkLogs(logs: readonly LogSource[], settings: CheckSettings): Generator<Outcome> {
  for (const log of logs) {
    try {
      yield checkLog(log, settings);
    } catch (error) {
      const told = fileError(error, log.shown);
      if (!(told instanceof UserError)) throw error;
      yield { unusable: { file: redactText(log.shown), error: redactText(told.message) } };
    }
  }
}

function checkLog(log: LogSource, { version, sheetsFor, analysers, codes, traces, courses }: CheckSettings): Outcome {
  if (log.kind === 'none') throw log.error;
  const { mapping, build, mappingsNear } = sheetsFor(log);
  const chunks = log.kind === 'stdin' ? stdinChunks() : fileChunks(log.path);
  const input = { name: log.shown, chunks, mapping, mappingsNear, build, version, analysers, codes };
  if (traces) return assessLogWithTraces(input);
  return courses ? assessLogWithCourses(input) : { report: assessLog(input) };
}
