import type { Report } from '../../src/report/report-schema.ts';

/** An invented report with every kind of content, for tests of what is made of reports. */
export function sampleReport(changes: Partial<Report> = {}): Report {
  return {
    pullgate: 'report/1',
    tool: { name: 'pullgate', version: '0.0.0' },
    log: {
      file: 'bay-2/run.csv',
      sha256: 'ab12'.repeat(16),
      bytes: 123456,
      rows: 2400,
      duration: 120.4,
      dialect: {
        delimiter: ',',
        quoteChar: '"',
        encoding: 'utf-8',
        decimalChar: '.',
        skipRows: 0,
        headerRowCount: 1,
      },
    },
    mapping: { title: 'Invented logger', sha256: 'cd34'.repeat(16), guessed: false },
    build: { title: 'Invented hatchback', sha256: 'ef56'.repeat(16) },
    channels: [
      {
        id: 'engine_speed',
        column: 'RPM',
        unit: 'rpm',
        rate: 20,
        coverage: 1,
        min: 780,
        max: 6780,
        notes: [],
      },
      {
        id: 'manifold_pressure',
        column: 'Boost (psi)',
        unit: 'kPa',
        rate: 9.8,
        coverage: 0.98,
        min: 30.2,
        max: 221.4,
        notes: ['3 samples outside the plausible range.'],
      },
    ],
    pulls: [
      {
        id: 1,
        start: 41.2,
        end: 47.9,
        rpm: [2510, 6720],
        gear: 3,
        settledBoost: 83.1,
        usable: true,
        notes: [],
      },
      {
        id: 2,
        start: 80,
        end: 81.1,
        rpm: [2900, 3400],
        gear: null,
        settledBoost: null,
        usable: false,
        notes: ['Lifted after 1.1 s, too short to judge.'],
      },
    ],
    gate: 'fail',
    analysers: [
      {
        id: 'injector-duty',
        title: 'Injector duty',
        verdict: 'fail',
        summary: 'Injector duty reaches 94.3 % at 6,700 rpm: there is no injector left.',
        findings: [
          {
            id: 'injector-duty.peak',
            verdict: 'fail',
            title: 'No injector left at the top of the pull',
            measured: { value: 94.3, unit: '%', low: 93.1, high: 95.4 },
            limit: { warn: 85, fail: 92, unit: '%', source: 'common practice, no source' },
            reasoning: [
              'Pulse width is 16.9 ms at 6,700 rpm in pull 1.',
              'Duty = 16.9 ms × 6,700 rpm / 1200 × 1 pulse per cycle = 94.3 %, above the limit of 92.0 %.',
            ],
            where: [{ pull: 1, start: 46.8, end: 47.9, rpm: [6350, 6720] }],
            causes: [{ cause: 'Injectors too small for the airflow', for: ['Duty rises with boost.'], against: [] }],
            next: ['Check fuel pressure under load.', 'Fit larger injectors before any more boost.'],
          },
        ],
        needs: [],
      },
      {
        id: 'boost-creep',
        title: 'Boost creep',
        verdict: 'pass',
        summary: 'Boost stays level after settling.',
        findings: [
          {
            id: 'boost-creep.rise',
            verdict: 'pass',
            title: 'Boost stays level',
            measured: { value: 1.2, unit: 'kPa', low: 0.3, high: 2.1 },
            limit: { warn: 7, fail: 20, unit: 'kPa', source: 'common practice, no source' },
            reasoning: ['The settled line rises 1.2 kPa from 3,600 to 6,720 rpm.'],
            where: [{ pull: 1, start: 43.1, end: 47.9, rpm: [3600, 6720] }],
            detectable: 'a rise of 2.4 kPa.',
            causes: [],
            next: [],
          },
        ],
        needs: [],
        tables: [
          {
            id: 'boost-creep.pulls',
            title: 'Settled boost by pull',
            columns: [
              { name: 'Pull', unit: 'number' },
              { name: 'Settled', unit: 'kPa' },
              { name: 'At the end', unit: 'kPa' },
              { name: 'Shape', unit: '' },
            ],
            rows: [
              ['1', 83.1, 84.3, 'level'],
              ['2', null, null, 'too short'],
            ],
          },
        ],
      },
      {
        id: 'timing-pull',
        title: 'Timing pull',
        verdict: 'not-assessed',
        summary: 'No knock retard is logged.',
        findings: [
          {
            id: 'timing-pull.peak',
            verdict: 'not-assessed',
            title: 'Timing pull not assessed',
            reasoning: ['Neither knock retard nor spark advance with its target is logged.'],
            where: [],
            causes: [],
            next: ['Log knock_retard by cylinder.'],
          },
        ],
        needs: ['knock_retard', 'spark_advance with spark_advance_target'],
      },
    ],
    handback: [
      { item: 'Fault memory read and clear', done: true },
      { item: 'Road test with the owner', done: false },
    ],
    notes: ['Barometric pressure 99.1 kPa, from manifold pressure with the engine off.'],
    cautions: ['This report helps trained people decide. It does not release a car to the road.'],
    ...changes,
  };
}
