import type { Build } from '../../build-sheet/build.ts';
import type { Drive } from '../../drive/drive.ts';
import type { AnalyserAnswer } from '../report-schema.ts';
import { boostClues } from './boost-clues.ts';
import type { RankedCause } from './cause-schema.ts';
import { type Clues, findingBook, isTripped } from './clue.ts';
import { fuelClues } from './fuel-clues.ts';
import { knockClues } from './knock-clues.ts';
import { rankCauses } from './rank-causes.ts';

interface CauseSubject {
  readonly answers: readonly AnalyserAnswer[];
  readonly drive: Drive;
  readonly build: Build;
  /** Trouble codes read by hand. */
  readonly codes: readonly string[];
}

/** Puts every question of the rules to one log. */
export function cluesOf({ answers, drive, build, codes }: CauseSubject): Clues {
  const book = findingBook(answers);
  return {
    ...fuelClues(drive, build, book, [...codes, ...build.codes]),
    ...knockClues(drive, build, book),
    ...boostClues(drive, build, book),
  };
}

/** Likely causes of all that warns or fails in one log; empty where nothing does. */
export function causesOf(subject: CauseSubject): RankedCause[] {
  const anything = subject.answers.some(({ findings }) => findings.some(isTripped));
  return anything ? rankCauses(subject.answers, cluesOf(subject)) : [];
}
