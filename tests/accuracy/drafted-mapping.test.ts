import { describe, expect, it, vi } from 'vitest';
import { type CaseOptions, simulateCase } from '../support/simulate.ts';
import { compareDrafted } from './drafted.ts';

vi.setConfig({ testTimeout: 60_000 });

const CASES: Record<string, CaseOptions> = {
  'brackets, metric': { seed: 'draft 1', layout: {} },
  'no units in the header, psi and Fahrenheit': {
    seed: 'draft 2',
    layout: { headerUnits: 'none' },
    system: 'american',
  },
  'no units in the header, millibar': { seed: 'draft 3', layout: { headerUnits: 'none', time: 'min' }, system: 'mbar' },
  'units row, bar': { seed: 'draft 4', layout: { headerUnits: 'row', time: 'epoch_ms' }, system: 'bar' },
  'long, a row per sample': { seed: 'draft 5', layout: { shape: 'long', time: 'ms' } },
  'own time columns': { seed: 'draft 6', layout: {}, logger: { polling: 'own-time', round: 2 } },
  'blank in turn': { seed: 'draft 7', layout: { missing: 'N/A' }, logger: { polling: 'blank', round: 2 } },
};

describe('a drafted mapping', () => {
  it.each(Object.entries(CASES))('%s: the same verdicts as the true one', (_, options) => {
    for (const fault of [undefined, 'creep'] as const) {
      const generated = simulateCase({ short: true, rateHz: 20, ...options, ...(fault && { fault, level: 'fail' }) });
      const { different, wrongPasses, falseDoubts } = compareDrafted(generated);
      expect({ different, wrongPasses, falseDoubts }).toEqual({ different: [], wrongPasses: [], falseDoubts: [] });
    }
  });
});
