import { describe, expect, test } from 'vitest';
import { medianInterval } from '../../src/signal/median-interval.ts';
import { normalFrom, seededRandom } from './seeded-random.ts';

const upTo = (n: number) => Array.from({ length: n }, (_, i) => i + 1);

describe('medianInterval', () => {
  // Ranks of the sign-test interval and their coverage, by exact binomial sums (closed form).
  test.each([
    [6, 1, 6, 1 - 2 / 64],
    [8, 1, 8, 1 - 2 / 256],
    [9, 2, 8, 1 - (2 * 10) / 512],
    [10, 2, 9, 1 - (2 * 11) / 1024],
    [20, 6, 15, 1 - (2 * 21700) / 1048576],
  ])('of %d readings runs from the reading of rank %d to that of rank %d', (n, low, high, confidence) => {
    const interval = medianInterval(upTo(n), n);
    expect([interval.low, interval.high]).toEqual([low, high]);
    expect(interval.confidence).toBeCloseTo(confidence, 12);
    expect(interval.confidence).toBeGreaterThanOrEqual(0.95);
  });

  test('fewer than six independent readings give their range and say what it is worth', () => {
    expect(medianInterval(upTo(5), 5)).toEqual({ low: 1, high: 5, confidence: 1 - 2 / 32 });
    expect(medianInterval(upTo(100), 3.7)).toEqual({ low: 1, high: 100, confidence: 0.75 });
    expect(medianInterval([4], 1)).toEqual({ low: 4, high: 4, confidence: 0 });
  });

  test('correlated readings widen it', () => {
    const all = medianInterval(upTo(100), 100);
    const few = medianInterval(upTo(100), 20);
    expect([all.low, all.high]).toEqual([40, 61]);
    expect(few.low).toBeLessThan(30);
    expect(few.high).toBeGreaterThan(70);
  });

  test('large samples follow the normal approximation', () => {
    const n = 10000;
    const { low, high } = medianInterval(upTo(n), n);
    expect(low).toBeCloseTo(n / 2 - 0.98 * Math.sqrt(n), -1);
    expect(high).toBe(n + 1 - low);
  });

  test('holds the true median at least 95 times in 100', () => {
    let held = 0;
    for (let seed = 1; seed <= 400; seed++) {
      const normal = normalFrom(seededRandom(seed * 13));
      const { low, high } = medianInterval(Array.from({ length: 25 }, normal), 25);
      if (low <= 0 && high >= 0) held++;
    }
    expect(held).toBeGreaterThanOrEqual(372);
  });

  test('nothing to measure is refused', () => {
    expect(() => medianInterval([], 1)).toThrow(RangeError);
  });
});
