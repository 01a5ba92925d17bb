import { describe, expect, test } from 'vitest';
import { mannKendall } from '../../src/signal/mann-kendall.ts';
import { expectRelative } from './relative.ts';

describe('Mann–Kendall test', () => {
  test('worked example by hand (J. Little, College of the Holy Cross): S 54, Z 2.9058, one-sided p about .0018', () => {
    const h = [12.9, 14.8, 13.2, 15.7, 13.8, 15.6, 12.9, 11.0, 17.3, 15.9, 19.0, 18.3, 20.1, 21.7];
    const { s, variance, z, p } = mannKendall(h);
    expect(s).toBe(54);
    expectRelative(variance, 998 / 3, 1e-12);
    expect(Math.abs(z - 2.9058)).toBeLessThan(6e-5);
    expectRelative(z, 2.905836846, 1e-9);
    expectRelative(p, 0.00366272376, 1e-8);
  });

  // Derived from the published formula, digits by SciPy 1.10.1.
  test.each([
    ['falling', [4.7, 4.1, 3.9, 4.4, 3.2, 3.5, 2.8, 2.9, 2.1, 2.3], -35, 125, -3.0410524494, 0.0023575276],
    [
      'quantised, with ties',
      [0.8, 0.8, 1.6, 1.6, 2.3, 1.6, 3.1, 3.1, 3.9, 4.7, 4.7, 5.5],
      58,
      206,
      3.9713781815,
      7.1458038e-5,
    ],
    ['short', [1, 2, 4, 3, 6, 5], 11, 85 / 3, 1.8786728733, 0.060289174],
  ])('%s series', (_, values, s, variance, z, p) => {
    const trend = mannKendall(values);
    expect(trend.s).toBe(s);
    expectRelative(trend.variance, variance, 1e-12);
    expectRelative(trend.z, z, 1e-9);
    expectRelative(trend.p, p, 2e-8);
  });

  test('a constant series has no trend and no division by zero', () => {
    expect(mannKendall([3, 3, 3, 3, 3, 3])).toEqual({ s: 0, variance: 0, z: 0, p: 1 });
  });
});
