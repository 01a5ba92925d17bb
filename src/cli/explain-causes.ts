import { wrap } from '../render/terminal/wrap.ts';
import type { CauseRule, Weight } from '../report/causes/cause-rule.ts';
import { CHECK_COSTS } from '../report/causes/check-costs.ts';
import { CAUSE_RULES, LIKELY_FROM, POSSIBLE_FROM } from '../report/causes/rank-causes.ts';
import { labelledLines } from './labelled-lines.ts';

/** The word that `explain` takes for all of the rules. */
export const CAUSES = 'causes';

export const causeNamed = (id: string): CauseRule | undefined => CAUSE_RULES.find((rule) => rule.id === id);

/** Every rule in full, and how they are put in order. */
export function allCauseLines(width: number): string[] {
  return [
    `Causes (${CAUSE_RULES.length} rules)`,
    '',
    ...wrap(howRanked(), width, { first: '', rest: '' }),
    '',
    ...CAUSE_RULES.flatMap((rule) => [...causeLines(rule, width), '']),
    'One of them: pullgate explain ID',
  ];
}

function howRanked(): string {
  return (
    'A cause comes up where one of the findings that it explains warns or fails, and something speaks for it. What the log shows ' +
    'gives or takes points, one more where it would explain a failure; what the log cannot tell counts for nothing and is said. ' +
    `From ${LIKELY_FROM} points on a cause is likely, from ${POSSIBLE_FROM} possible, else unlikely. Points: common practice, no source. ` +
    'No log proves a cause: check the cheapest first.'
  );
}

/** One rule in full. */
export function causeLines(rule: CauseRule, width: number): string[] {
  const row = (label: string, texts: readonly string[]) => labelledLines(label, texts, width);
  const next = rule.next.toSorted((a, b) => CHECK_COSTS.indexOf(a.cost) - CHECK_COSTS.indexOf(b.cost));
  return [
    ...wrap(`${rule.cause} (${rule.id})`, width, { first: '', rest: '  ' }),
    '',
    ...row('Physics', [rule.physics]),
    ...row('Explains', [rule.explains.join(', ')]),
    ...row('Only where', rule.only),
    ...row('For', evidenceWords(rule.evidence, 1)),
    ...row('Against', evidenceWords(rule.evidence, -1)),
    ...row(
      'Check next',
      next.map(({ cost, step }) => `${cost}: ${step}`),
    ),
  ];
}

/** What speaks for (sign 1) or against (−1), the weightiest first; an answer of no counts as much as one of yes. */
function evidenceWords(evidence: readonly Weight[], sign: 1 | -1): string[] {
  return evidence
    .flatMap(({ clue, yes, no }) => [
      { words: clue as string, points: sign * yes },
      { words: `not so: ${clue}`, points: sign * no },
    ])
    .filter(({ points }) => points > 0)
    .toSorted((a, b) => b.points - a.points)
    .map(({ words, points }) => `${words} (${points} point${points === 1 ? '' : 's'})`);
}
