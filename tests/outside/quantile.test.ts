import { quantile as d3Quantile } from 'd3-array';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { median } from '../../src/signal/median.ts';
import { quantile } from '../../src/signal/quantile.ts';
import { expectRelative } from './relative.ts';

const finite = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e9, max: 1e9 });

describe('quantile', () => {
  // Hyndman and Fan (1996), type 7, on powers of two; the nine types give 384 to 512 at 0.95.
  test.each([
    [0, 1],
    [0.1, 1.9],
    [0.25, 5],
    [0.5, 24],
    [0.9, 281.6],
    [0.95, 396.8],
    [1, 512],
  ])('type 7 of 1, 2, 4 … 512 at %d is %d', (p, expected) => {
    expectRelative(quantile([512, 1, 2, 256, 4, 8, 128, 16, 32, 64], p), expected, 1e-11);
  });

  test('agrees with d3-array on random samples', () => {
    fc.assert(
      fc.property(
        fc.array(finite, { minLength: 1, maxLength: 60 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (values, p) => {
          const reference = d3Quantile(values, p);
          expect(Math.abs(quantile(values, p) - reference)).toBeLessThanOrEqual(
            1e-12 * Math.max(...values.map(Math.abs)),
          );
          expect(median(values)).toBeCloseTo(d3Quantile(values, 0.5), 5);
        },
      ),
      { numRuns: 300 },
    );
  });
});
