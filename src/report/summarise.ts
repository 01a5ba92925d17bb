import { rollUpLogs } from './gate.ts';
import type { PullCourses } from './pull-courses.ts';
import type { PullTraces } from './pull-traces.ts';
import type { Report, Summary } from './report-schema.ts';

/** What became of one log: its report, or why it could not be used. */
export type Outcome =
  | { readonly report: Report; readonly traces?: readonly PullTraces[]; readonly courses?: PullCourses | undefined }
  | { readonly unusable: { readonly file: string; readonly error: string } };

export function summarise(outcomes: readonly Outcome[]): Summary {
  const reports = outcomes.flatMap((outcome) => ('report' in outcome ? [outcome.report] : []));
  const unusable = outcomes.flatMap((outcome) => ('unusable' in outcome ? [outcome.unusable] : []));
  return {
    pullgate: 'summary/1',
    gate: rollUpLogs(
      reports.map((report) => report.gate),
      unusable.length,
    ),
    reports,
    unusable,
  };
}
