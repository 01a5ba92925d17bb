import { recogniseUnit } from '../units/recognise-unit.ts';
import type { ChannelId } from './catalogue.ts';
import { channelByConcepts } from './guess-concepts.ts';
import { GUESS_RULES, KNOCK_BY_CYLINDER, OTHER_WORDS, TARGET_OF, TARGET_WORDS } from './guess-terms.ts';
import { withoutUnit, wordsOf } from './header-unit.ts';

export interface NameGuess {
  readonly id: ChannelId;
  /** 0…1 */
  readonly confidence: number;
}

/** Any unit known here. */
export const isUnit = (text: string) => recogniseUnit(text) !== undefined;

const bareWords = (name: string): string[] => wordsOf(withoutUnit(name.trim(), isUnit));

/** A name's words without its unit, in lower case with single blanks. */
export const foldedName = (name: string): string => bareWords(name).join(' ');

function surest(folded: string): NameGuess | undefined {
  const matches = GUESS_RULES.filter((rule) => rule.pattern.test(folded));
  return matches.sort((a, b) => b.confidence - a.confidence)[0];
}

/** By standard terms and abbreviations, as they stand. */
function byTerms(folded: string): NameGuess | undefined {
  const cylinder = KNOCK_BY_CYLINDER.exec(folded);
  const number = Number(cylinder?.[1] ?? cylinder?.[2] ?? 0);
  if (number >= 1 && number <= 12) return { id: `knock_retard_${number}` as ChannelId, confidence: 0.9 };
  const best = surest(folded);
  if (best) return best;
  if (!TARGET_WORDS.test(folded)) return undefined;
  const wished = surest(folded.replace(TARGET_WORDS, ' ').replace(/\s+/g, ' ').trim());
  return wished && asTarget(wished);
}

function asTarget(wished: NameGuess): NameGuess | undefined {
  const id = TARGET_OF[wished.id];
  return id && { id, confidence: wished.confidence };
}

/** By what the words mean, in any of the languages and any order. */
function byMeaning(words: readonly string[]): NameGuess | undefined {
  const found = channelByConcepts(words);
  return found?.isTarget ? asTarget(found) : found;
}

/** The channel a column's name stands for and how sure that is: by the whole name, else by the name without its unit. */
export function channelByName(name: string): NameGuess | undefined {
  const bare = bareWords(name);
  const folded = bare.join(' ');
  const term = byTerms(wordsOf(name).join(' ')) ?? byTerms(folded);
  const isVolts = term?.id === 'battery_voltage';
  const known = term && (isVolts || !OTHER_WORDS.test(folded)) ? term : undefined;
  const meant = byMeaning(bare);
  if (!known || !meant) return known ?? meant;
  return known.confidence >= meant.confidence ? known : meant;
}
