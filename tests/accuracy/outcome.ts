import { FAULT_KINDS, type GeneratedCase } from '../support/simulate.ts';
import { SIX, type Verdict } from './assess.ts';

export type Outcome = 'caught' | 'too-slow' | 'missed';

/** Updates a second below which a log need not show the fault; it must then say `not-assessed`. Spikes here last 0.25 to 0.42 s. */
const NEEDED_HZ: Record<string, number> = {
  'fuel-trim': 1,
  'injector-duty': 4,
  'boost-overshoot': 5,
  'boost-spike': 10,
  'boost-creep': 3,
  'timing-pull': 5,
};

const RANK: Record<Verdict, number> = { 'not-assessed': 0, pass: 1, warn: 2, fail: 3 };

/** Analysers that cried wolf over a healthy car. */
export function falseAlarms(verdicts: ReadonlyMap<string, Verdict>): string[] {
  return SIX.filter((id) => verdicts.get(id) === 'warn' || verdicts.get(id) === 'fail');
}

/** What became of a planted fault: a pass is always a miss; not-assessed is right only where the log was too slow to show it. */
export function outcomeOf(generated: GeneratedCase, verdicts: ReadonlyMap<string, Verdict>): Outcome {
  const fault = generated.fault;
  if (!fault) throw new Error(`${generated.id} has no fault`);
  const answers = fault.analysers.map((id) => verdicts.get(id) ?? 'not-assessed');
  if (answers.some((verdict) => RANK[verdict] >= RANK[fault.level])) return 'caught';
  const slow = fault.analysers.every((id) => generated.rateOf(fault.channel) < (NEEDED_HZ[id] ?? 10));
  return slow && answers.every((verdict) => verdict === 'not-assessed') ? 'too-slow' : 'missed';
}

/** A fault counts as clear only a quarter beyond its limit. */
export function isClear(generated: GeneratedCase): boolean {
  const fault = generated.fault;
  return fault !== undefined && fault.truth >= 1.25 * fault.limit;
}

export const kindsInTurn = (car: number) => FAULT_KINDS[car % FAULT_KINDS.length] as (typeof FAULT_KINDS)[number];
