import type { CHECK_COSTS } from './check-costs.ts';
import type { ClueId } from './clue.ts';

type Cost = (typeof CHECK_COSTS)[number];

/** What one clue adds to a cause where it is there, and where it is not. Negative speaks against. */
export interface Weight {
  readonly clue: ClueId;
  readonly yes: number;
  readonly no: number;
}

/** One possible cause: all that is known of it, to be read without the code around it. */
export interface CauseRule {
  readonly id: string;
  readonly cause: string;
  readonly physics: string;
  /** Comes up where one of these findings warns or fails. */
  readonly explains: readonly string[];
  /** Comes up only where each of these clues is answered with yes. */
  readonly only: readonly ClueId[];
  readonly evidence: readonly Weight[];
  readonly next: readonly { readonly step: string; readonly cost: Cost }[];
}

export const when = (clue: ClueId, yes: number, no = 0): Weight => ({ clue, yes, no });
export const check = (cost: Cost, step: string) => ({ step, cost });
