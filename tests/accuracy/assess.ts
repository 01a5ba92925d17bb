import { assessLog } from '../../src/run/assess-log.ts';
import type { GeneratedCase } from '../support/simulate.ts';

export type Verdict = 'pass' | 'warn' | 'fail' | 'not-assessed';

/** The six questions that generated cars are judged on. */
export const SIX = [
  'fuel-trim',
  'injector-duty',
  'boost-overshoot',
  'boost-spike',
  'boost-creep',
  'timing-pull',
] as const;

/** The program's verdict on a generated case, by analyser. */
export function verdictsOn(generated: GeneratedCase): Map<string, Verdict> {
  const report = assessLog({
    name: generated.name,
    chunks: [generated.bytes],
    mapping: { text: generated.mappingText, name: 'pullgate.map.json' },
    build: { text: generated.buildText, name: 'pullgate.build.json' },
    version: 'accuracy',
  });
  return new Map(report.analysers.map((analyser) => [analyser.id, analyser.verdict]));
}
