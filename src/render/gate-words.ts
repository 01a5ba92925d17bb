import { hasCrash } from '../report/answer.ts';
import { openItems } from '../report/gate.ts';
import type { Report } from '../report/report-schema.ts';
import { countWords, VERDICT_WORDS } from './terminal/words.ts';

export const GUESSED_CAUTION =
  'No mapping file was given, so the columns were guessed from their names. Check the channels below before trusting any answer.';

export const gateTitle = (open: boolean): string => (open ? 'GATE OPEN' : 'GATE CLOSED');

/** Why the gate stands as it does. An open gate after a drive without a pull must not be taken for one that full load was tried. */
export function gateReason(report: Report, open: boolean): string {
  if (hasCrash(report)) return 'A fault in pullgate stopped part of the work: this run decides nothing.';
  if (report.gate === 'not-assessed') return 'Nothing could be assessed.';
  if (report.gate === 'fail') return ['At least one answer fails.', ...missingWords(report)].join(' ');
  const isPartial = report.analysers.some((answer) => answer.verdict === 'not-assessed');
  const passes = isPartial ? 'What could be assessed passes.' : 'Every answer passes.';
  const reason = report.gate === 'warn' ? warnReason(report, open) : passes;
  const isUntried = isPartial && !report.pulls.some((pull) => pull.usable);
  return isUntried ? `${reason} No full-load pull could be judged, so nothing here speaks for full load.` : reason;
}

/** Warnings, required answers that are missing, and what of the handback list keeps the gate from passing beside them. */
function warnReason(report: Report, open: boolean): string {
  const left = openItems(report.handback).length;
  const warns = report.analysers.some(({ verdict }) => verdict === 'warn' || verdict === 'fail');
  const missing = missingWords(report);
  const items = left > 0 ? [`${countWords(left, 'handback item')} ${left === 1 ? 'is' : 'are'} not done.`] : [];
  const rest = [...missing, ...items].map((text, i) => (i === 0 && !warns ? `but ${lowerFirst(text)}` : text));
  if (!warns) return `Nothing fails, ${rest.length > 0 ? rest.join(' ') : 'but a required answer is missing.'}`;
  return [open ? 'Nothing fails, but there are warnings.' : 'There are warnings.', ...rest].join(' ');
}

/** Which answers the build sheet requires and this run does not give, each with why. */
function missingWords({ requiredOpen = [] }: Report): string[] {
  if (requiredOpen.length === 0) return [];
  const [what, are] = requiredOpen.length === 1 ? ['A required answer', 'is'] : ['Required answers', 'are'];
  return [`${what} ${are} missing. ${requiredOpen.map(({ title, why }) => `${title}: ${why}`).join(' ')}`];
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);

/** `"4 questions: 1 fail, 3 pass."` */
export function tally({ analysers }: Report): string {
  const counts = (['fail', 'warn', 'pass', 'not-assessed'] as const).flatMap((verdict) => {
    const count = analysers.filter((answer) => answer.verdict === verdict).length;
    return count === 0 ? [] : `${count} ${VERDICT_WORDS[verdict].toLowerCase()}`;
  });
  return `${countWords(analysers.length, 'question')}: ${counts.join(', ')}.`;
}
