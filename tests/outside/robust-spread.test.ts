import { describe, expect, test } from 'vitest';
import { median } from '../../src/signal/median.ts';
import { normalQuantile } from '../../src/signal/normal.ts';
import { robustSpread } from '../../src/signal/robust-spread.ts';
import { expectRelative } from './relative.ts';

describe('median absolute deviation', () => {
  test('1 … 9 gives 2 × 1.4826 (R documentation, stats::mad)', () => {
    expectRelative(robustSpread([1, 2, 3, 4, 5, 6, 7, 8, 9]), 2.9652, 2e-6);
  });

  test('one outlier does not move it (R documentation, stats::mad)', () => {
    expectRelative(robustSpread([1, 2, 3, 4, 5, 6, 7, 8, 100]), 2 * 1.482602218505602, 1e-12);
  });

  test('its factor is 1/Φ⁻¹(0.75) (closed form)', () => {
    expectRelative(robustSpread([-1, 1]), 1 / normalQuantile(0.75), 1e-13);
  });

  test('robust z of an outlier (closed form)', () => {
    const values = [2.0, 2.1, 1.9, 2.0, 2.2, 1.8, 9.0];
    expectRelative((9 - median(values)) / robustSpread(values), 47.2142825137, 1e-9);
    expect(median(values)).toBe(2);
  });
});
