import type { AnalyserAnswer } from '../report-schema.ts';
import { BOOST_RULES } from './boost-rules.ts';
import type { CauseRule, Weight } from './cause-rule.ts';
import type { RankedCause } from './cause-schema.ts';
import { CHECK_COSTS } from './check-costs.ts';
import { type Clues, type FindingBook, findingBook, isTripped } from './clue.ts';
import { FUEL_RULES } from './fuel-rules.ts';
import { KNOCK_RULES } from './knock-rules.ts';
import { TRIM_RULES } from './trim-rules.ts';

/** Every rule. Where two causes stand equal, the one written first leads: the graver for the engine, then the cheaper to check. */
export const CAUSE_RULES: readonly CauseRule[] = [...FUEL_RULES, ...TRIM_RULES, ...KNOCK_RULES, ...BOOST_RULES];

export const LIKELY_FROM = 3;
export const POSSIBLE_FROM = 1;

const standingOf = (score: number): RankedCause['standing'] =>
  score >= LIKELY_FROM ? 'likely' : score >= POSSIBLE_FROM ? 'possible' : 'unlikely';

/** A clue that would speak for or against by itself: worth telling where it is missing. */
const decides = ({ yes, no }: Weight) => yes * no < 0 && Math.max(Math.abs(yes), Math.abs(no)) >= 2;

/** What a rule comes to; nothing where none of its findings is tripped, or nothing at all speaks for it. */
function weigh(rule: CauseRule, clues: Clues, book: FindingBook): RankedCause | undefined {
  const explained = rule.explains.filter((id) => isTripped(book.get(id)));
  if (explained.length === 0 || rule.only.some((clue) => clues[clue].answer !== 'yes')) return undefined;
  const found = { for: [] as string[], against: [] as string[], open: [] as string[] };
  let score = explained.some((id) => book.get(id)?.verdict === 'fail') ? 1 : 0;
  for (const weight of rule.evidence) {
    const { answer, words } = clues[weight.clue];
    if (answer === 'open') {
      if (decides(weight)) found.open.push(words);
      continue;
    }
    const points = weight[answer];
    score += points;
    if (points !== 0) found[points > 0 ? 'for' : 'against'].push(words);
  }
  if (found.for.length === 0) return undefined;
  const unique = (texts: readonly string[]) => [...new Set(texts)];
  return {
    id: rule.id,
    cause: rule.cause,
    physics: rule.physics,
    standing: standingOf(score),
    score,
    explains: explained,
    for: unique(found.for),
    against: unique(found.against),
    open: unique(found.open),
    next: rule.next.toSorted((a, b) => CHECK_COSTS.indexOf(a.cost) - CHECK_COSTS.indexOf(b.cost)),
  };
}

/** The causes that would explain what warns or fails, the best supported first. */
export function rankCauses(answers: readonly Pick<AnalyserAnswer, 'findings'>[], clues: Clues): RankedCause[] {
  const book = findingBook(answers);
  return CAUSE_RULES.map((rule) => weigh(rule, clues, book))
    .filter((cause) => cause !== undefined)
    .sort((a, b) => b.score - a.score);
}
