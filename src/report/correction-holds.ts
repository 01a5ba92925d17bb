import type { CorrectionCell, CorrectionField } from '../drive/correction/cells.ts';
import type { RankedCause } from './causes/cause-schema.ts';
import { findingBook, isTripped } from './causes/clue.ts';
import type { AnalyserAnswer } from './report-schema.ts';

/** What keeps corrections back. */
export interface Hold {
  readonly source: CorrectionCell['source'];
  /** Holds back what adds fuel, what takes it away, or both. */
  readonly way: 'more' | 'less' | 'both';
  readonly why: string;
}

/** Faults that a correction would hide, or that make its data unsafe to use. */
const HOLDS: readonly (Hold & { readonly findings: readonly string[] })[] = [
  {
    source: 'closed loop',
    way: 'both',
    findings: ['fuel-trim.drift'],
    why: 'the trims move over the log: find what moves first',
  },
  {
    source: 'closed loop',
    way: 'both',
    findings: ['fuel-trim.bank-split'],
    why: 'the banks differ: one table cannot mend one bank',
  },
  {
    source: 'full load',
    way: 'both',
    findings: ['fuel-pressure.drop', 'fuel-pressure.reference'],
    why: 'fuel pressure does not hold: mend delivery first',
  },
  {
    source: 'full load',
    way: 'more',
    findings: ['injector-duty.peak'],
    why: 'there is little or no injector left: more command may give no more fuel',
  },
  {
    source: 'full load',
    way: 'less',
    findings: ['timing-pull.peak', 'timing-pull.repeat', 'charge-temperature.peak'],
    why: 'the engine pulls timing or the charge is hot: take no fuel away',
  },
  {
    source: 'full load',
    way: 'less',
    findings: [
      'boost-overshoot.excess',
      'boost-overshoot.ceiling',
      'boost-creep.rise',
      'boost-creep.ceiling',
      'boost-spike.height',
      'boost-spike.ceiling',
    ],
    why: 'boost is not under control: take no fuel away',
  },
  {
    source: 'full load',
    way: 'both',
    findings: ['sensor-health.saturated', 'sensor-health.units'],
    why: 'a reading lies at the end of its range, or its unit is in doubt: find out what the sensors read first',
  },
  {
    source: 'full load',
    way: 'both',
    findings: ['mixture.agreement'],
    why: 'measured mixture does not fit airflow and injected fuel: check sensor and build sheet first',
  },
];

/** What keeps corrections of this log back. */
export function holdsOf(
  field: CorrectionField,
  answers: readonly Pick<AnalyserAnswer, 'findings'>[],
  causes: readonly RankedCause[],
): Hold[] {
  const book = findingBook(answers);
  const holds: Hold[] = HOLDS.filter(({ findings }) => findings.some((id) => isTripped(book.get(id))));
  if (causes.some(({ id, standing }) => id === 'sensor-in-air' && standing !== 'unlikely')) {
    const why = 'lambda reads as if in air: add no fuel by it before the sensor is believed';
    holds.push({ source: 'closed loop', way: 'more', why }, { source: 'full load', way: 'more', why });
  }
  if (field.stillLearning.length > 0) {
    holds.push({ source: 'closed loop', way: 'both', why: 'the trims were still being learnt when the log ended' });
  }
  return holds;
}
