import { hasCrash } from '../report/answer.ts';
import { openItems } from '../report/gate.ts';
import type { Report } from '../report/report-schema.ts';
import { countWords, VERDICT_WORDS } from './terminal/words.ts';

export const GUESSED_CAUTION =
  'No mapping file was given, so the columns were guessed from their names. Check the channels below before trusting any answer.';

export const gateTitle = (open: boolean): string => (open ? 'GATE OPEN' : 'GATE CLOSED');

/** Why the gate stands as it does, in one sentence. */
export function gateReason(report: Report, open: boolean): string {
  if (hasCrash(report)) return 'A fault in pullgate stopped part of the work: this run decides nothing.';
  if (report.gate === 'not-assessed') return 'Nothing could be assessed.';
  if (report.gate === 'fail') return 'At least one answer fails.';
  if (report.gate === 'warn') return warnReason(report, open);
  return report.analysers.some((answer) => answer.verdict === 'not-assessed')
    ? 'What could be assessed passes.'
    : 'Every answer passes.';
}

/** Warnings, and what of the handback list keeps the gate from passing beside them. */
function warnReason({ analysers, handback }: Report, open: boolean): string {
  const left = openItems(handback).length;
  const items = `${countWords(left, 'handback item')} ${left === 1 ? 'is' : 'are'} not done.`;
  const warns = analysers.some(({ verdict }) => verdict === 'warn' || verdict === 'fail');
  if (left > 0 && !warns) return `Nothing fails, but ${items}`;
  const warnings = open ? 'Nothing fails, but there are warnings.' : 'There are warnings.';
  return left > 0 ? `${warnings} ${items}` : warnings;
}

/** `"4 questions: 1 fail, 3 pass."` */
export function tally({ analysers }: Report): string {
  const counts = (['fail', 'warn', 'pass', 'not-assessed'] as const).flatMap((verdict) => {
    const count = analysers.filter((answer) => answer.verdict === verdict).length;
    return count === 0 ? [] : `${count} ${VERDICT_WORDS[verdict].toLowerCase()}`;
  });
  return `${countWords(analysers.length, 'question')}: ${counts.join(', ')}.`;
}
