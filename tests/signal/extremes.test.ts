import { describe, expect, it } from 'vitest';
import { largest, smallest } from '../../src/signal/extremes.ts';

describe('extremes', () => {
  it('are those of Math.max and Math.min', () => {
    for (const values of [[3, 1, 2], [-1], [], [0, -0.5, 0.5]]) {
      expect([largest(values), smallest(values)]).toEqual([Math.max(...values), Math.min(...values)]);
    }
  });
  it('of half a million values are found, which a call with as many arguments would not take', () => {
    const values = Float64Array.from({ length: 500_000 }, (_, i) => Math.sin(i));
    expect(largest(values)).toBeLessThanOrEqual(1);
    expect(largest(values)).toBeGreaterThan(0.999_999);
    expect(smallest(values)).toBeLessThan(-0.999_999);
  });
});
