import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { theilSen, theilSenSlope } from '../../src/signal/theil-sen.ts';
import { normalFrom, seededRandom } from './seeded-random.ts';

describe('theilSen', () => {
  test('points that repeat an x are used, their vertical pairs are not', () => {
    const { slope, slopeLow, slopeHigh } = theilSen([0, 0, 1, 1, 2, 2], [0, 0.1, 1, 1.1, 2, 2.1]);
    expect(slope).toBeCloseTo(1, 12);
    expect(Number.isFinite(slopeLow) && Number.isFinite(slopeHigh)).toBe(true);
  });

  test('a quarter of wild points does not move it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const uniform = seededRandom(seed);
        const x = Array.from({ length: 80 }, (_, i) => i);
        const y = x.map((v, i) => 5 + 0.5 * v + 0.01 * uniform() + (i % 4 === 1 ? 1000 * uniform() : 0));
        expect(theilSen(x, y).slope).toBeCloseTo(0.5, 1);
      }),
      { numRuns: 40 },
    );
  });

  test.each([2, 9, 128, 300])('its slope alone is that of the line (n = %d)', (n) => {
    const normal = normalFrom(seededRandom(n));
    const x = Array.from({ length: n }, (_, i) => i + normal());
    const y = x.map((v) => 3 * v + normal());
    expect(theilSenSlope(x, y)).toBe(theilSen(x, y).slope);
  });

  test.each([40, 200, 1200, 4000])('its interval holds the true slope about 95 times in 100 (n = %d)', (n) => {
    let held = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const normal = normalFrom(seededRandom(seed * 31));
      const x = Array.from({ length: n }, (_, i) => i / n);
      const { slopeLow, slopeHigh } = theilSen(
        x,
        x.map((v) => 3 * v + normal()),
      );
      if (slopeLow <= 3 && slopeHigh >= 3) held++;
    }
    expect(held).toBeGreaterThanOrEqual(181);
    expect(held).toBeLessThanOrEqual(199);
  });

  test('with correlated noise only the interval widened by the effective sample size holds the truth', () => {
    let plain = 0;
    let widened = 0;
    const n = 200;
    const r = 0.8;
    for (let seed = 1; seed <= 200; seed++) {
      const normal = normalFrom(seededRandom(seed * 17));
      let noise = normal() / Math.sqrt(1 - r * r);
      const x = Array.from({ length: n }, (_, i) => i / n);
      const y = x.map((v) => {
        noise = r * noise + normal();
        return 3 * v + noise;
      });
      const narrow = theilSen(x, y);
      const wide = theilSen(x, y, 0.95, (n * (1 - r)) / (1 + r));
      if (narrow.slopeLow <= 3 && narrow.slopeHigh >= 3) plain++;
      if (wide.slopeLow <= 3 && wide.slopeHigh >= 3) widened++;
      expect(wide.slope).toBe(narrow.slope);
    }
    expect(plain).toBeLessThan(140);
    expect(widened).toBeGreaterThanOrEqual(181);
  });

  test.each([300, 2000, 20_000])('a choice of pairs stays close to the line of all pairs (n = %d)', (n) => {
    const normal = normalFrom(seededRandom(2));
    const x = Array.from({ length: n }, (_, i) => i / n);
    const y = x.map((v) => v + normal());
    const line = theilSen(x, y);
    const leastError = Math.sqrt((12 / n) * (Math.PI / 3));
    expect(line.n).toBe(n);
    // Within two standard errors of the Theil–Sen slope under normal noise (relative efficiency 3/π to least squares), twice that for the choice.
    expect(Math.abs(line.slope - 1)).toBeLessThan(4 * leastError);
    const halfWidth = (line.slopeHigh - line.slopeLow) / 2;
    expect(halfWidth).toBeGreaterThan(1.5 * leastError);
    expect(halfWidth).toBeLessThan(4 * leastError);
  });

  test('a rhythm in step with the choice of pairs does not tilt the line', () => {
    for (let period = 2; period <= 40; period++) {
      const x = Array.from({ length: 400 }, (_, i) => i / 400);
      const y = x.map((v, i) => 2 * v + 0.3 * Math.sin((2 * Math.PI * i) / period));
      expect(theilSen(x, y).slope).toBeCloseTo(2, 1);
    }
  });

  test('two points give their slope and no more', () => {
    expect(theilSen([0, 2], [1, 5])).toEqual({ slope: 2, intercept: 1, slopeLow: 2, slopeHigh: 2, n: 2 });
  });

  test('misuse is refused', () => {
    expect(() => theilSen([1, 2], [1])).toThrow('x has 2 values but y has 1');
    expect(() => theilSen([1], [1])).toThrow('at least two points');
    expect(() => theilSen([4, 4, 4], [1, 2, 3])).toThrow('two different x');
  });
});
