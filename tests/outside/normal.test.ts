import { describe, expect, test } from 'vitest';
import { normalCdf, normalQuantile } from '../../src/signal/normal.ts';
import { expectRelative } from './relative.ts';

describe('normal distribution', () => {
  // SciPy 1.10.1 norm.ppf as carried by its interval and MAD checks.
  test.each([
    [0.75, 0.6744897501960817],
    [0.975, 1.959963984540054],
  ])('quantile of %d', (p, z) => {
    expectRelative(normalQuantile(p), z, 1e-13);
    expectRelative(normalCdf(z), p, 1e-13);
  });

  test('one-sided p of Z 2.905836846 is 0.00183136188 (formula of the Mann–Kendall lesson, digits by SciPy 1.10.1)', () => {
    expectRelative(normalCdf(-2.905836846), 0.00183136188, 1e-8);
  });

  // Tail areas as printed in tables of the normal distribution; from memory.
  test.each([
    [-1, 0.15865525393145707],
    [-2, 0.022750131948179212],
    [-3, 0.0013498980316300957],
    [-6, 9.865876450377018e-10],
    [-10, 7.619853024160527e-24],
  ])('lower tail at %d', (z, area) => {
    expectRelative(normalCdf(z), area, 1e-12);
    expectRelative(1 - normalCdf(-z), area, Math.max(1e-12, 1e-15 / area));
  });

  test('quantile undoes the distribution, far out too', () => {
    for (const p of [1e-300, 1e-20, 1e-6, 0.01, 0.3, 0.5]) expectRelative(normalCdf(normalQuantile(p)), p, 1e-11);
    expect(normalQuantile(0.5)).toBeCloseTo(0, 15);
    expect(normalQuantile(0.9)).toBeCloseTo(-normalQuantile(0.1), 14);
  });
});
