import type { Verdict } from '../analysers/finding.ts';
import type { AnalyserAnswer, RequiredOpen } from './report-schema.ts';

/** From which verdict on the gate is closed. */
export const FAIL_ON = ['warn', 'fail', 'never'] as const;
export type FailOn = (typeof FAIL_ON)[number];

interface Answer {
  readonly id: string;
  readonly verdict: Verdict;
}

/** Required analysers that gave no answer, whether they could not or were switched off. */
export function requiredButOpen(answers: readonly Answer[], required: readonly string[]): string[] {
  return required.filter((id) => !answers.some((answer) => answer.id === id && answer.verdict !== 'not-assessed'));
}

/** The same with why, and what would let them be answered. */
export function requiredOpen(answers: readonly AnalyserAnswer[], required: readonly string[]): RequiredOpen[] {
  return requiredButOpen(answers, required).map((id) => {
    const answer = answers.find((one) => one.id === id);
    if (!answer) {
      return { id, title: id, why: 'This run left it out.', next: [`Run again and leave ${id} in (--only, --skip).`] };
    }
    const open = answer.findings.find(({ verdict }) => verdict === 'not-assessed');
    return { id, title: answer.title, why: open?.reasoning[0] ?? answer.summary, next: open?.next ?? [] };
  });
}

interface HandbackItem {
  readonly item: string;
  readonly done: boolean;
}

/** What the handback list still asks for before the car goes back. */
export function openItems<T extends HandbackItem>(handback: readonly T[]): T[] {
  return handback.filter(({ done }) => !done);
}

/** The verdict over all analysers of one log. An open item of the handback list keeps it from passing. */
export function rollUpGate(
  answers: readonly Answer[],
  required: readonly string[],
  handback: readonly HandbackItem[] = [],
): Verdict {
  const given = answers.map((answer) => answer.verdict).filter((verdict) => verdict !== 'not-assessed');
  if (given.length === 0) return 'not-assessed';
  if (given.includes('fail')) return 'fail';
  const isOpen = requiredButOpen(answers, required).length > 0 || openItems(handback).length > 0;
  return given.includes('warn') || isOpen ? 'warn' : 'pass';
}

/** The verdict over several logs. One that says nothing keeps the others from passing. */
export function rollUpLogs(gates: readonly Verdict[], unusableCount: number): Verdict {
  const given = gates.filter((gate) => gate !== 'not-assessed');
  if (given.length === 0) return 'not-assessed';
  if (given.includes('fail')) return 'fail';
  return given.includes('warn') || given.length < gates.length || unusableCount > 0 ? 'warn' : 'pass';
}

/** Whether the car may go on. Where nothing could be assessed the gate stays closed, whatever was asked for. */
export function gateIsOpen(gate: Verdict, failOn: FailOn): boolean {
  if (gate === 'not-assessed') return false;
  if (failOn === 'never') return true;
  return gate === 'pass' || (gate === 'warn' && failOn === 'fail');
}
