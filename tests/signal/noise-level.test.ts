import { describe, expect, test } from 'vitest';
import { noiseLevel } from '../../src/signal/noise-level.ts';
import { normalFrom, seededRandom } from './seeded-random.ts';

const n = 4000;
const noisy = (sigma: number, shape: (i: number) => number, step = 0) => {
  const normal = normalFrom(seededRandom(9));
  return Float64Array.from({ length: n }, (_, i) => {
    const value = shape(i) + sigma * normal();
    return step > 0 ? Math.round(value / step) * step : value;
  });
};

describe('noiseLevel', () => {
  test.each([0.5, 3])('finds the noise of %d on a level, a slope, a slow wave and under spikes', (sigma) => {
    expect(noiseLevel(noisy(sigma, () => 100)) / sigma).toBeCloseTo(1, 1);
    expect(noiseLevel(noisy(sigma, (i) => 7 * i)) / sigma).toBeCloseTo(1, 1);
    expect(noiseLevel(noisy(sigma, (i) => 20 * Math.sin(i / 300))) / sigma).toBeCloseTo(1, 1);
    expect(Math.abs(noiseLevel(noisy(sigma, (i) => (i % 50 === 0 ? 90 : 0))) / sigma - 1)).toBeLessThan(0.1);
  });

  test.each([0.05, 0.2, 0.4, 1, 2])(
    'on a scale of whole units, noise of %d stays within reach of the truth',
    (sigma) => {
      const level = noiseLevel(noisy(sigma, (i) => 100 + 0.001 * i, 1));
      const withRounding = Math.hypot(sigma, 1 / Math.sqrt(12));
      expect(level / withRounding).toBeGreaterThan(0.5);
      expect(level / withRounding).toBeLessThan(2.2);
    },
  );

  test('a scale that hides the noise leaves that of rounding, step/√12', () => {
    expect(noiseLevel([5, 5, 5, 5, 5.5, 5.5, 5.5, 5.5])).toBeCloseTo(0.5 / Math.sqrt(12), 12);
  });

  test('a constant and a clean ramp have none', () => {
    expect(noiseLevel([4, 4, 4, 4])).toBe(0);
    expect(noiseLevel([0, 2, 4, 6, 8])).toBe(0);
  });

  test('one value is refused', () => {
    expect(() => noiseLevel([1])).toThrow(RangeError);
  });
});
