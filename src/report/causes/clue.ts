import type { Finding } from '../../analysers/finding.ts';
import type { AnalyserAnswer } from '../report-schema.ts';

/** Questions that rules ask of one report, each answered from findings or from what the drive shows. */
export const CLUES = [
  'fuel is added',
  'fuel is taken away',
  'the correction is alike everywhere',
  'the correction fades with load',
  'the correction grows with load',
  'the trims move in one direction',
  'the banks differ',
  'full load is lean',
  'lambda lies at its lean end',
  'the mixture read does not fit the fuel delivered',
  'fuel pressure falls at full load',
  'the fall grows with engine speed',
  'fuel pressure at rest is off',
  'the regulator lost its reference',
  'injector duty is at its end',
  'battery voltage is low in the pull',
  'the ethanol sensor differs from the build sheet',
  'another blend would explain the correction',
  'cylinders misfire',
  'the calibration works by speed and density',
  'boost overshoots',
  'boost rings after the peak',
  'boost settles slowly',
  'the controller is electronic',
  'boost climbs after it settled',
  'boost never comes to a level',
  'boost swings',
  'boost is far above the spring',
  'boost is low',
  'boost goes over its ceiling',
  'it shows in every pull',
  'boost spikes',
  'spikes last a single sample',
  'knock retard in the pulls',
  'one cylinder alone is hit',
  'several cylinders are hit',
  'retard returns at the same engine speed',
  'retard comes fast and goes slowly',
  'the charge is hot when it knocks',
  'the mixture is lean when it knocks',
  'the charge is hot',
  'heat builds up from pull to pull',
] as const;
export type ClueId = (typeof CLUES)[number];

/** What the log says to a question; `open` where it cannot tell. */
export interface Clue {
  readonly answer: 'yes' | 'no' | 'open';
  /** One sentence with numbers; for `open`, why not. */
  readonly words: string;
}

export type Clues = Readonly<Record<ClueId, Clue>>;

export const yes = (words: string): Clue => ({ answer: 'yes', words });
export const no = (words: string): Clue => ({ answer: 'no', words });
export const open = (words: string): Clue => ({ answer: 'open', words });

export const sentence = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`);

/** The findings of a report by id. */
export type FindingBook = ReadonlyMap<string, Finding>;

export function findingBook(answers: readonly Pick<AnalyserAnswer, 'findings'>[]): FindingBook {
  return new Map(answers.flatMap(({ findings }) => findings.map((finding) => [finding.id, finding] as const)));
}

export const isTripped = (finding: Finding | undefined): finding is Finding =>
  finding?.verdict === 'warn' || finding?.verdict === 'fail';

/** Yes where any of the findings warns or fails, no where the first that was judged passes. */
export function clueOf(book: FindingBook, ids: readonly string[], notJudged: string): Clue {
  const findings = ids.map((id) => book.get(id)).filter((finding) => finding !== undefined);
  const tripped = findings.filter(isTripped);
  if (tripped.length > 0) return yes(sentence([...new Set(tripped.map((f) => f.title))].join('; ')));
  const passed = findings.find((finding) => finding.verdict === 'pass');
  return passed ? no(sentence(passed.title)) : open(sentence(notJudged));
}
