import type { Verdict } from '../../analysers/finding.ts';
import { hasCrash } from '../../report/answer.ts';
import type { FailOn } from '../../report/gate.ts';
import { readsOpen } from '../../report/gate-reading.ts';
import type { Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { countWords, VERDICT_WORDS } from './words.ts';
import { wrap } from './wrap.ts';

/** The gate in words, then how the questions came out. A fail never reads as an open gate, whatever `--fail-on` says. */
export function headline(report: Report, failOn: FailOn, width: number, paint: Paint): string[] {
  const open = readsOpen(report, failOn);
  const colour: Verdict = open ? report.gate : 'fail';
  const words = open ? 'GATE OPEN' : 'GATE CLOSED';
  const indent = ' '.repeat(words.length + 2);
  const [first, ...rest] = wrap(report.log.file, width, { first: indent, rest: indent });
  const file = [first.slice(indent.length), ...rest].map(paint.strong);
  const lines = [`${paint.verdict(colour, words)}  ${file[0]}`, ...file.slice(1)];
  lines.push(...wrap(`${gateReason(report, open)} ${tally(report)}`, width));
  if (report.mapping.guessed) lines.push(...wrap(GUESSED, width, { first: 'CAUTION  ', rest: ' '.repeat(9) }));
  return lines;
}

const GUESSED =
  'No mapping file was given, so the columns were guessed from their names. Check the channels below before trusting any answer.';

function gateReason(report: Report, open: boolean): string {
  if (hasCrash(report)) return 'A fault in pullgate stopped part of the work: this run decides nothing.';
  if (report.gate === 'not-assessed') return 'Nothing could be assessed.';
  if (report.gate === 'fail') return 'At least one answer fails.';
  if (report.gate === 'warn') return open ? 'Nothing fails, but there are warnings.' : 'There are warnings.';
  return report.analysers.some((answer) => answer.verdict === 'not-assessed')
    ? 'What could be assessed passes.'
    : 'Every answer passes.';
}

function tally({ analysers }: Report): string {
  const counts = (['fail', 'warn', 'pass', 'not-assessed'] as const).flatMap((verdict) => {
    const count = analysers.filter((answer) => answer.verdict === verdict).length;
    return count === 0 ? [] : `${count} ${VERDICT_WORDS[verdict].toLowerCase()}`;
  });
  return `${countWords(analysers.length, 'question')}: ${counts.join(', ')}.`;
}
