import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { theilSen } from '../../src/signal/theil-sen.ts';
import { NORRIS } from './nist-data.ts';
import { expectRelative } from './relative.ts';

const norrisX = NORRIS.map(([, x]) => x);
const norrisY = NORRIS.map(([y]) => y);

describe('Theil–Sen line', () => {
  test('Norris (NIST StRD data) against SciPy 1.10.1 theilslopes', () => {
    const line = theilSen(norrisX, norrisY);
    expectRelative(line.slope, 1.0021968365554, 1e-9);
    expectRelative(line.intercept, -0.0640158172232, 1e-9);
    expectRelative(line.slopeLow, 1.0011153245594, 1e-9);
    expectRelative(line.slopeHigh, 1.0030534351145, 1e-9);
  });

  test('Norris: its interval holds the certified least-squares slope (NIST StRD), which the library meets', () => {
    const certified = 1.00211681802045;
    const line = theilSen(norrisX, norrisY);
    expect(line.slopeLow).toBeLessThan(certified);
    expect(line.slopeHigh).toBeGreaterThan(certified);
    expectRelative(linearRegression(NORRIS.map(([y, x]) => [x, y])).m, certified, 1e-13);
  });

  test('hand example of a Mann–Kendall lesson (College of the Holy Cross) against SciPy 1.10.1 theilslopes', () => {
    const y = [12.9, 14.8, 13.2, 15.7, 13.8, 15.6, 12.9, 11.0, 17.3, 15.9, 19.0, 18.3, 20.1, 21.7];
    const line = theilSen([...y.keys()], y);
    expectRelative(line.slope, 0.56666666666667, 1e-10);
    expectRelative(line.intercept, 11.966666666667, 1e-10);
    expectRelative(line.slopeLow, 0.325, 1e-10);
    expectRelative(line.slopeHigh, 0.86666666666667, 1e-10);
  });

  test.each([
    ['falling, no ties', [4.7, 4.1, 3.9, 4.4, 3.2, 3.5, 2.8, 2.9, 2.1, 2.3], -0.275, 4.5875],
    ['quantised like a fuel trim', [0.8, 0.8, 1.6, 1.6, 2.3, 1.6, 3.1, 3.1, 3.9, 4.7, 4.7, 5.5], 0.4303030303, 1 / 3],
    ['constant', [7, 7, 7, 7, 7, 7], 0, 7],
  ])('slope and intercept of a series (%s), SciPy 1.10.1', (_, y, slope, intercept) => {
    const line = theilSen([...y.keys()], y);
    expectRelative(line.slope, slope, 1e-9);
    expectRelative(line.intercept, intercept, 1e-8);
  });

  test('analytic lines are exact, also beyond the size where points are thinned', () => {
    const coefficient = fc.integer({ min: -1000, max: 1000 }).map((k) => k / 8);
    fc.assert(
      fc.property(coefficient, coefficient, fc.integer({ min: 2, max: 900 }), (slope, intercept, n) => {
        const x = Float64Array.from({ length: n }, (_, i) => i / 16);
        const line = theilSen(
          x,
          x.map((v) => intercept + slope * v),
        );
        expect(line.slope).toBe(slope);
        expect(line.intercept).toBe(intercept);
        expect([line.slopeLow, line.slopeHigh]).toEqual([slope, slope]);
        expect(line.n).toBe(n);
      }),
      { numRuns: 30 },
    );
  });
});
