import { describe, expect, test } from 'vitest';
import { lag1Autocorrelation } from '../../src/signal/autocorrelation.ts';
import { effectiveSampleSize } from '../../src/signal/effective-sample-size.ts';
import { normalFrom, seededRandom } from './seeded-random.ts';

function autoregressive(n: number, r: number, seed: number): Float64Array {
  const normal = normalFrom(seededRandom(seed));
  let value = normal() / Math.sqrt(1 - r * r);
  return Float64Array.from({ length: n }, () => {
    value = r * value + normal();
    return value;
  });
}

describe('effectiveSampleSize', () => {
  test.each([0, 0.3, 0.6, 0.9])('an autoregressive series with r = %d is worth n(1 − r)/(1 + r)', (r) => {
    const n = 20000;
    const series = autoregressive(n, r, 3);
    expect(lag1Autocorrelation(series)).toBeCloseTo(r, 1);
    expect(effectiveSampleSize(series) / ((n * (1 - r)) / (1 + r))).toBeCloseTo(1, 0);
    expect(effectiveSampleSize(series)).toBeLessThanOrEqual(n);
  });

  test('a constant series counts every reading, an alternating one no more than it has', () => {
    expect(effectiveSampleSize([2, 2, 2, 2])).toBe(4);
    expect(effectiveSampleSize([1, 3, 1, 3, 1, 3])).toBe(6);
    expect(lag1Autocorrelation([2, 2, 2])).toBeNaN();
  });

  test('a single slow ramp is worth hardly more than one reading', () => {
    const ramp = Float64Array.from({ length: 500 }, (_, i) => i);
    expect(effectiveSampleSize(ramp)).toBeGreaterThanOrEqual(1);
    expect(effectiveSampleSize(ramp)).toBeLessThan(3);
  });

  test('one reading is one, none is refused', () => {
    expect(effectiveSampleSize([5])).toBe(1);
    expect(() => effectiveSampleSize([])).toThrow(RangeError);
    expect(() => lag1Autocorrelation([1])).toThrow(RangeError);
  });
});
