import { hasCrash } from './answer.ts';
import { type FailOn, gateIsOpen } from './gate.ts';
import type { Report } from './report-schema.ts';

/** Whether people should read the gate as open. A fail never does, even where `never` lets the run end well; neither does a broken run. */
export function readsOpen(report: Report, failOn: FailOn): boolean {
  return gateIsOpen(report.gate, failOn === 'never' ? 'fail' : failOn) && !hasCrash(report);
}
