import { graveFindings } from './key-findings.ts';
import type { Report } from './report-schema.ts';

/** What forbids the next pull, and until when. */
const STOP = /^No further full-load pull until (.+)\.$/;

/**
 * What to check or change next, each step once. First what forbids another pull, in one sentence; then the first step of every grave finding and
 * of every required question that stayed open, the gravest first; then their second steps, and so on. Last what would let an open question be
 * answered.
 */
export function nextSteps(report: Pick<Report, 'analysers' | 'requiredOpen'>): string[] {
  const grave = graveFindings(report).map(({ finding }) => finding.next);
  const required = (report.requiredOpen ?? []).map(({ next }) => next);
  const open = report.analysers.flatMap(({ findings }) =>
    findings.filter(({ verdict }) => verdict === 'not-assessed').map(({ next }) => next),
  );
  const rest = (steps: readonly string[]) => steps.filter((step) => !STOP.test(step));
  const told = new Set(stopSteps([...grave, ...open].flat()));
  inTurn([...grave, ...required].map(rest), told);
  inTurn(open.map(rest), told);
  return [...told];
}

/** One step of each in turn, then the next of each; one that was told already gives way to the one after it. */
function inTurn(lists: readonly (readonly string[])[], told: Set<string>): void {
  const queues = lists.map((steps) => [...steps]);
  while (queues.some((queue) => queue.length > 0)) {
    for (const queue of queues) {
      let step = queue.shift();
      while (step !== undefined && told.has(step)) step = queue.shift();
      if (step !== undefined) told.add(step);
    }
  }
}

/** `"No further full-load pull until fuel pressure holds and the mixture is right."`; of two clauses about one thing the first counts. */
function stopSteps(steps: readonly string[]): string[] {
  const clauses = new Map<string, string>();
  for (const step of steps) {
    const clause = STOP.exec(step)?.[1];
    const about = clause?.replace(/ (is|holds)\b.*/, '') ?? '';
    if (clause !== undefined && !clauses.has(about)) clauses.set(about, clause);
  }
  const all = [...clauses.values()];
  if (all.length === 0) return [];
  const last = all[all.length - 1];
  const told = all.length === 1 ? last : `${all.slice(0, -1).join(', ')} and ${last}`;
  return [`No further full-load pull until ${told}.`];
}
