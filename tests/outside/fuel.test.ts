import { describe, expect, test } from 'vitest';
import { ethanolForStoichRatio, fuelDensityKgL, stoichiometricAfr } from '../../src/engine/stoichiometry.ts';
import { totalTrimPercent } from '../../src/engine/total-trim.ts';
import { expectRelative } from './relative.ts';

describe('stoichiometry of petrol and ethanol', () => {
  test('pure fuels: 14.7 and 9 (U.S. DOE Alternative Fuels Data Center, Properties of Fuels)', () => {
    expect(stoichiometricAfr(0)).toBe(14.7);
    expect(Math.abs(stoichiometricAfr(100) - 9)).toBeLessThan(0.05);
  });

  test('pure ethanol from its composition is 9.004 (closed form; oxygen share of air 0.2314156)', () => {
    const composition = (3 * 31.998) / 46.069 / 0.2314156;
    expect(Math.abs(stoichiometricAfr(100) - composition)).toBeLessThan(0.005);
  });

  // Mass-weighted from blends by volume with 0.745 and 0.794 kg/L.
  test.each([
    [10, 14.7, 14.09692],
    [10, 14.6, 14.00751],
    [85, 14.7, 9.813292],
    [85, 14.6, 9.799086],
    [51, 14.7, 11.705],
    [83, 14.7, 9.9223],
  ])('E%d with petrol %d is %d', (percent, petrol, expected) => {
    expect(Math.abs(stoichiometricAfr(percent, petrol) - expected)).toBeLessThan(0.002);
  });

  test('blends mix by mass: E85 is 9.81, while weighting by volume would give 9.86 and be wrong', () => {
    const byVolume = 0.85 * 9.00415 + 0.15 * 14.7;
    expect(byVolume).toBeCloseTo(9.8585, 3);
    expect(byVolume - stoichiometricAfr(85)).toBeGreaterThan(0.04);
  });

  test('densities stay inside what is published for the pure fuels (U.S. DOE Alternative Fuels Data Center)', () => {
    const kgLPerLbGal = 0.45359237 / 3.785411784;
    expect(fuelDensityKgL(0)).toBeGreaterThan(6.0 * kgLPerLbGal);
    expect(fuelDensityKgL(0)).toBeLessThan(6.5 * kgLPerLbGal);
    expectRelative(fuelDensityKgL(100), 6.61 * kgLPerLbGal, 3e-3);
  });

  test('the blend that explains a trim undoes the ratio of the two blends', () => {
    for (const assumed of [0, 10, 30]) {
      for (const real of [0, 5, 20, 60, 85, 100]) {
        const ratio = stoichiometricAfr(assumed) / stoichiometricAfr(real);
        expect(ethanolForStoichRatio(assumed, ratio)).toBeCloseTo(real, 8);
      }
    }
    expect(ethanolForStoichRatio(0, 0.98)).toBeUndefined();
    expect(ethanolForStoichRatio(0, 1.7)).toBeUndefined();
    expect(ethanolForStoichRatio(85, 1.2)).toBeUndefined();
  });
});

describe('total trim, closed form', () => {
  test.each([
    [8, 6, 14.48],
    [-10, -12, -20.8],
    [5, 0, 5],
  ])('%d % short and %d % long make %d %', (short, long, total) => {
    expectRelative(totalTrimPercent(short, long), total, 1e-12);
  });
});
