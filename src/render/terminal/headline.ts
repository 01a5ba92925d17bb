import type { Verdict } from '../../analysers/finding.ts';
import type { FailOn } from '../../report/gate.ts';
import { readsOpen } from '../../report/gate-reading.ts';
import type { Report } from '../../report/report-schema.ts';
import { GUESSED_CAUTION, gateReason, gateTitle, tally } from '../gate-words.ts';
import type { Paint } from './paint.ts';
import { wrap } from './wrap.ts';

/** The gate in words, then how the questions came out. A fail never reads as an open gate, whatever `--fail-on` says. */
export function headline(report: Report, failOn: FailOn, width: number, paint: Paint): string[] {
  const open = readsOpen(report, failOn);
  const colour: Verdict = open ? report.gate : 'fail';
  const words = gateTitle(open);
  const indent = ' '.repeat(words.length + 2);
  const [first, ...rest] = wrap(report.log.file, width, { first: indent, rest: indent });
  const file = [first.slice(indent.length), ...rest].map(paint.strong);
  const lines = [`${paint.verdict(colour, words)}  ${file[0]}`, ...file.slice(1)];
  lines.push(...wrap(`${gateReason(report, open)} ${tally(report)}`, width));
  if (report.mapping.guessed) lines.push(...wrap(GUESSED_CAUTION, width, { first: 'CAUTION  ', rest: ' '.repeat(9) }));
  return lines;
}
