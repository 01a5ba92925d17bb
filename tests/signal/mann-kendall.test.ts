import fc from 'fast-check';
import { expect, test } from 'vitest';
import { mannKendall } from '../../src/signal/mann-kendall.ts';

test('S counts what comparing every pair counts', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 1, maxLength: 60 }), (values) => {
      let s = 0;
      for (let i = 0; i < values.length; i++) {
        for (let j = i + 1; j < values.length; j++) s += Math.sign(values[j] - values[i]);
      }
      expect(mannKendall(values).s).toBe(s);
    }),
    { numRuns: 200 },
  );
});

test('a reversed series has the opposite trend and the same probability', () => {
  const values = [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8, 9];
  const [forward, backward] = [mannKendall(values), mannKendall(values.toReversed())];
  expect(backward.s).toBe(-forward.s);
  expect(backward.p).toBe(forward.p);
});

test('a long steady rise cannot be chance', () => {
  expect(mannKendall(Float64Array.from({ length: 5000 }, (_, i) => i)).p).toBeLessThan(1e-300);
});

test('nothing to test is refused', () => {
  expect(() => mannKendall([])).toThrow(RangeError);
});
