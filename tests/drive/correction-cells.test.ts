import { describe, expect, it } from 'vitest';
import { type CorrectionCell, correctionField } from '../../src/drive/correction/cells.ts';
import { aBuild } from '../support/build-sheet.ts';
import { type MixtureScript, mixtureDrive } from '../support/mixture-drive.ts';
import { TEN_MINUTES, type TrimScript, trimDrive } from '../support/trim-drive.ts';

const closed = (script: Omit<TrimScript, 'holds'>) =>
  correctionField(trimDrive({ holds: TEN_MINUTES, ...script }), aBuild());
const full = (script: MixtureScript) => {
  const { drive, build } = mixtureDrive(script);
  return correctionField(drive, build).cells.filter(({ source, enough }) => source === 'full load' && enough);
};
const surely = ({ low, high }: CorrectionCell) => (low > 1 ? 'more' : high < 1 ? 'less' : 'neither');

describe('closed loop', () => {
  it('needs the fuel that the trims add: 8 % is a ratio of 1.08, in every cell that was held long enough', () => {
    const { cells, axis } = closed({ total: () => 8 });
    expect(axis).toMatchObject({ name: 'absolute load', unit: '%' });
    const judged = cells.filter(({ enough }) => enough);
    expect(judged.length).toBeGreaterThanOrEqual(3);
    for (const cell of judged) {
      expect(cell.ratio).toBeCloseTo(1.08, 2);
      expect(cell.low).toBeLessThanOrEqual(cell.ratio);
      expect(cell.high).toBeGreaterThanOrEqual(cell.ratio);
      expect(cell.samples).toBeGreaterThan(3);
      expect(surely(cell)).toBe('more');
    }
  });

  it.each([-12, -6, 6, 12])('has the sign of a trim of %i % everywhere', (percent) => {
    const judged = closed({ total: () => percent, seed: 20 + percent }).cells.filter(({ enough }) => enough);
    expect(judged.map(surely)).toEqual(judged.map(() => (percent > 0 ? 'more' : 'less')));
  });

  it('leaves nothing sure where the banks pull apart', () => {
    const judged = closed({ total: () => 7, totalBank2: () => -7 }).cells.filter(({ enough }) => enough);
    expect(judged.length).toBeGreaterThan(0);
    expect(judged.map(surely)).toEqual(judged.map(() => 'neither'));
  });

  it('is less sure where one of the two trims is not logged', () => {
    const known = closed({ total: () => 4 }).cells.filter(({ enough }) => enough);
    const half = closed({ total: () => 4, drop: ['long_term_fuel_trim_1'] }).cells.filter(({ enough }) => enough);
    expect(known.map(surely)).toContain('more');
    expect(half.map(surely)).not.toContain('more');
  });
});

describe('full load', () => {
  it('needs measured over asked lambda: 0.05 lean of 0.82 is 1.061', () => {
    const cells = full({ error: () => 0.05, noise: 0.002 });
    expect(cells.length).toBeGreaterThan(2);
    for (const cell of cells) {
      expect(cell.ratio).toBeCloseTo(0.87 / 0.82, 2);
      expect(surely(cell)).toBe('more');
    }
  });

  it('needs less where it is rich', () => {
    const cells = full({ error: () => -0.05, noise: 0.002 });
    expect(cells.length).toBeGreaterThan(2);
    expect(cells.map(surely)).toEqual(cells.map(() => 'less'));
  });

  it('asks for nothing where the target is met, nor for what the sensor may be off by', () => {
    expect(full({ noise: 0.004 }).map(surely)).not.toContain('more');
    expect(full({ error: () => 0.006, noise: 0.002 }).map(surely)).not.toContain('more');
  });

  it('does not take the lean entry of a pull for a lean cell', () => {
    const cells = full({ error: (into) => (into < 1.2 ? 0.15 : 0), noise: 0.002 });
    expect(cells.map(surely)).not.toContain('more');
  });

  it('is not there without a target', () => {
    const { drive } = mixtureDrive({ error: () => 0.05 });
    expect(correctionField(drive, aBuild()).cells.filter(({ source }) => source === 'full load')).toEqual([]);
  });
});
