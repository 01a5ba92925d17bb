import type { Report } from '../../src/report/report-schema.ts';

/** Suggested corrections of one cell, invented, in words of the caller's. */
export function sampleCorrections(words = 'A proposal for a trained person.'): NonNullable<Report['corrections']> {
  return {
    axis: { name: 'manifold pressure', unit: 'kPa' },
    step: { more: 5, less: 5, lessAtFullLoad: 2.5, source: 'common practice, no source' },
    cells: [
      {
        source: 'closed loop',
        idle: false,
        rpm: [2250, 2750],
        load: [35, 45],
        error: 6.2,
        low: 5.4,
        high: 7,
        samples: 12,
        seconds: 9.4,
        factor: 1.05,
        limited: true,
      },
    ],
    notes: [words],
    caution: words,
  };
}
