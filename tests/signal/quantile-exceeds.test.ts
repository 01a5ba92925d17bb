import { expect, it } from 'vitest';
import { quantile } from '../../src/signal/quantile.ts';
import { quantileExceeds } from '../../src/signal/quantile-exceeds.ts';
import { seededRandom } from './seeded-random.ts';

it('says of any level what the quantile itself says', () => {
  const random = seededRandom(11);
  for (let n = 1; n <= 60; n++) {
    const values = Float64Array.from({ length: n }, () => Math.floor(12 * random()));
    for (const p of [0, 0.02, 0.1, 0.5, 0.9, 0.98, 0.995, 1]) {
      const exact = quantile(values, p);
      for (const level of [-1, 0, 3, 5.5, 11, 12, exact, exact - 1e-6, exact + 1e-6]) {
        expect(quantileExceeds(values, p, level), `${n} values, share ${p}, level ${level}`).toBe(exact > level);
      }
    }
  }
});
