import { describe, expect, it } from 'vitest';
import type { Verdict } from '../../src/analysers/finding.ts';
import type { CorrectionCell, CorrectionField } from '../../src/drive/correction/cells.ts';
import { correctionTable } from '../../src/render/terminal/correction-table.ts';
import { noPaint } from '../../src/render/terminal/paint.ts';
import { correctionsOf } from '../../src/report/corrections.ts';
import { Corrections } from '../../src/report/corrections-schema.ts';
import { sampleReport } from '../support/sample-report.ts';

const cell = (ratio: number, changes: Partial<CorrectionCell> = {}): CorrectionCell => ({
  source: 'closed loop',
  region: { key: '5/4', idle: false, rpm: [2250, 2750], load: [35, 45] },
  ratio,
  low: ratio - 0.01,
  high: ratio + 0.01,
  samples: 12,
  seconds: 9.4,
  enough: true,
  ...changes,
});
const field = (...cells: CorrectionCell[]): CorrectionField => ({
  axis: { name: 'manifold pressure', unit: 'kPa' },
  cells,
  stillLearning: [],
});
const tripped = (id: string, verdict: Verdict = 'warn') => [
  { findings: [{ id, verdict, title: id, reasoning: [], where: [], causes: [], next: [] }] },
];
const suggest = (cells: CorrectionCell[], answers: ReturnType<typeof tripped> = []) =>
  correctionsOf(field(...cells), answers, []) as Corrections;
const only = (ratio: number, changes?: Partial<CorrectionCell>, answers?: ReturnType<typeof tripped>) =>
  suggest([cell(ratio, changes)], answers).cells[0];

describe('suggested corrections', () => {
  it('multiply by what is needed, and fit their schema', () => {
    const all = suggest([cell(1.034), cell(0.97)]);
    expect(Corrections.parse(all)).toEqual(all);
    expect(all.cells.map(({ factor }) => factor)).toEqual([1.034, 0.97]);
    expect(all.cells[0]).toMatchObject({ error: 3.4, low: 2.4, high: 4.4, limited: false });
    expect(all.caution).toMatch(/trained person/);
  });

  it('never go further than a step', () => {
    expect(only(1.2)).toMatchObject({ factor: 1.05, limited: true });
    expect(only(0.8)).toMatchObject({ factor: 0.95, limited: true });
    expect(only(1.2, { source: 'full load' })).toMatchObject({ factor: 1.05 });
    expect(only(0.8, { source: 'full load' })).toMatchObject({ factor: 0.975 });
  });

  it('never have the wrong sign, whatever the ratio and its interval', () => {
    for (let r = 0.7; r <= 1.3; r += 0.003) {
      for (const half of [0, 0.005, 0.02, 0.1]) {
        for (const source of ['closed loop', 'full load'] as const) {
          const { factor } = only(r, { source, low: r - half, high: r + half });
          if (factor === null) continue;
          expect(Math.sign(factor - 1)).toBe(Math.sign(r - 1));
          expect(factor).toBeGreaterThanOrEqual(0.95);
          expect(factor).toBeLessThanOrEqual(1.05);
          expect(half).toBeLessThan(Math.abs(r - 1));
        }
      }
    }
  });

  it('are blank where there is too little data, nothing sure, or hardly anything to correct', () => {
    expect(only(1.06, { enough: false })).toMatchObject({ factor: null, why: 'too little data' });
    expect(only(1.06, { low: 0.99 })).toMatchObject({ factor: null, why: 'the interval includes no correction' });
    expect(only(1.015, { low: 1.01, high: 1.02 })).toMatchObject({ factor: null, why: 'within 2 %' });
  });

  it('are held back where they would hide a fault or add to a danger', () => {
    const full = { source: 'full load' } as const;
    expect(only(1.05, full, tripped('fuel-pressure.drop')).factor).toBeNull();
    expect(only(1.05, full, tripped('injector-duty.peak', 'fail')).factor).toBeNull();
    expect(only(1.05, full, tripped('timing-pull.peak')).factor).toBe(1.05);
    expect(only(0.96, full, tripped('timing-pull.peak')).factor).toBeNull();
    expect(only(0.96, full, tripped('boost-creep.rise', 'fail')).why).toMatch(/boost is not under control/);
    expect(only(1.05, {}, tripped('fuel-trim.drift')).why).toMatch(/what moves/);
    expect(only(1.05, {}, tripped('fuel-trim.bank-split')).why).toMatch(/banks differ/);
    expect(only(1.05, {}, tripped('fuel-trim.drift', 'pass')).factor).toBe(1.05);
    const learning = correctionsOf({ ...field(cell(1.05)), stillLearning: [1] }, [], []);
    expect(learning?.cells[0].factor).toBeNull();
  });

  it('are not made from a sensor that reads as if in air, nor where a reading lies at its end', () => {
    const air = {
      id: 'sensor-in-air',
      cause: 'Air',
      physics: '',
      standing: 'likely' as const,
      score: 8,
      explains: ['mixture.lean-error'],
      for: [],
      against: [],
      open: [],
      next: [],
    };
    const of = (ratio: number, changes: Partial<CorrectionCell>, standing: 'likely' | 'unlikely' = 'likely') =>
      correctionsOf(field(cell(ratio, changes)), [], [{ ...air, standing }])?.cells[0];
    for (const source of ['closed loop', 'full load'] as const) {
      expect(of(1.05, { source })).toMatchObject({ factor: null, why: expect.stringMatching(/as if in air/) });
      expect(of(1.05, { source }, 'unlikely')?.factor).toBe(1.05);
    }
    const full = { source: 'full load' } as const;
    expect(only(1.05, full, tripped('sensor-health.saturated')).factor).toBeNull();
    expect(only(1.05, full, tripped('sensor-health.units')).factor).toBeNull();
    expect(only(1.05, {}, tripped('sensor-health.saturated')).factor).toBe(1.05);
  });

  it('name a fault in the car that comes first', () => {
    const cause = {
      id: 'unmetered-air',
      cause: 'Unmetered air',
      physics: '',
      standing: 'likely' as const,
      score: 4,
      explains: ['fuel-trim.level'],
      for: [],
      against: [],
      open: [],
      next: [],
    };
    const notes = correctionsOf(field(cell(1.05)), [], [cause])?.notes ?? [];
    expect(notes[0]).toBe('Mend first what the calibration cannot: Unmetered air (likely).');
    expect(correctionsOf(field(cell(1.05)), [], [{ ...cause, id: 'airflow-low' }])?.notes.join()).not.toMatch(/Mend/);
  });

  it('are not there where the log holds nothing to go by', () => {
    expect(correctionsOf(field(), [], [])).toBeUndefined();
  });
});

const other = { key: '6/5', idle: false, rpm: [2750, 3250], load: [45, 55] } as const;
const idle = { key: 'idle', idle: true, rpm: undefined, load: undefined } as const;

describe('as a table', () => {
  const lines = (cells: CorrectionCell[], width = 90) =>
    correctionTable(sampleReport({ corrections: suggest(cells) }), width, noPaint);

  it('shows the grid with blanks, each cell with its interval, and the caution first', () => {
    const text = lines([cell(1.2), cell(0.97, { region: other }), cell(1.001, { region: idle })]);
    expect(text[0]).toMatch(/proposal for a trained person/);
    expect(text).toContain('2,250 to 2,750         1.050');
    expect(text.some((line) => /2,750 to 3,250 {2,}0\.970$/.test(line))).toBe(true);
    expect(text.some((line) => /closed loop.*1\.050\*.*20\.0.*19\.0.*21\.0.*12.*9\.4/.test(line))).toBe(true);
    expect(text.some((line) => line.includes('1 cell blank, closed loop: the interval includes no correction.'))).toBe(
      true,
    );
  });

  it('leaves a cell of the grid blank where closed loop and full load pull apart', () => {
    const text = lines([cell(1.04), cell(0.97, { source: 'full load' }), cell(1.03, { region: other })]);
    expect(text.some((line) => line.startsWith('2,250 to 2,750') && /1\.04|0\.97/.test(line))).toBe(false);
    expect(text.some((line) => line.startsWith('2,750 to 3,250') && line.includes('1.030'))).toBe(true);
  });

  it('says when it has none, and stays away where there is too little data', () => {
    expect(lines([cell(1)])[0]).toBe('No correction is suggested.');
    expect(lines([cell(1.1, { enough: false })])).toEqual([]);
  });

  it('keeps to the width', () => {
    const text = lines([cell(1.2), cell(0.97, { region: other }), cell(1.04, { region: idle })], 60);
    expect(Math.max(...text.map((line) => line.length))).toBeLessThanOrEqual(60);
  });
});
