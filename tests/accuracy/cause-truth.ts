import type { Report } from '../../src/report/report-schema.ts';
import type { FaultKind, GeneratedCase } from '../support/simulate.ts';

/** The cause that the generator's model of a fault is, by what it changes in the car. */
const CAUSE_OF: Record<FaultKind, string> = {
  'base-fuel-lean': 'fuel-constant-short',
  'base-fuel-rich': 'fuel-constant-over',
  'unmetered-air': 'unmetered-air',
  'delivery-shortage': 'fuel-delivery',
  'idle-leak': 'extra-fuel-at-idle',
  'trim-drift': 'moving-with-heat',
  'bank-split': 'one-bank',
  'injector-duty': 'injectors-small',
  'injector-duty-unlogged': 'injectors-small',
  overshoot: 'late-gate',
  creep: 'gate-flow',
  runaway: 'no-control',
  swing: 'hunting',
  spike: 'sticky-gate',
  'knock-repeat': 'one-cylinder',
  'knock-single': 'one-cylinder',
  'knock-global': 'timing-beyond-fuel',
  'knock-from-advance': 'timing-beyond-fuel',
};

/**
 * Whether the first cause is what the generator did. Its shortage of fuel that grows with load leaves the rail pressure of the model steady:
 * where that is logged, the evidence says airflow, and rightly so. Its knock is always on one cylinder; only a log by cylinder can show it.
 */
export function isExpectedCause(generated: GeneratedCase, id: string | undefined): boolean {
  const kind = generated.fault?.kind;
  if (!kind || id === undefined) return false;
  if (kind === 'delivery-shortage' && generated.rateOf('fuel_rail_pressure') > 0) return id === 'airflow-low';
  const knocks = kind === 'knock-global' || kind === 'knock-from-advance';
  if (knocks && generated.rateOf('knock_retard_1') > 0) return id === 'one-cylinder';
  return id === CAUSE_OF[kind];
}

/** Suggested closed-loop corrections that go against what every steady place of that region truly needed; small needs count for neither sign. */
export function wrongSigns(generated: GeneratedCase, report: Report): { suggested: number; wrong: string[] } {
  const cells = report.corrections?.cells.filter(({ factor }) => factor !== null) ?? [];
  const trims = generated.truth.trims;
  const wrong = cells.flatMap(({ source, idle, rpm, load, factor, error }) => {
    const there = trims.filter((trim) =>
      idle
        ? trim.place === 'idle'
        : source === 'closed loop' && trim.place !== 'idle' && (!rpm || (trim.rpm >= rpm[0] && trim.rpm <= rpm[1])),
    );
    const needs = there.map(({ percent }) => (percent[0] + percent[1]) / 2);
    const against = needs.length > 0 && needs.every((percent) => Math.sign(percent) !== Math.sign((factor ?? 1) - 1));
    const isReverse = Math.sign((factor ?? 1) - 1) !== Math.sign(error);
    return against || isReverse
      ? [
          `${source} ${idle ? 'idle' : `${rpm} rpm, load ${load}`} factor ${factor}, truly needed ${needs.map((n) => n.toFixed(1)).join(', ')} %`,
        ]
      : [];
  });
  return { suggested: cells.length, wrong };
}
