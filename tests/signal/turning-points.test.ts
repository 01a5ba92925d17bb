import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { turningPointLegs } from '../../src/signal/turning-points.ts';

describe('turning-point legs', () => {
  it('of a triangle are its two sides', () => {
    const values = [0, 10, 20, 30, 20, 10, 0];
    expect(turningPointLegs(values, 0, 6, 5)).toEqual([
      { start: 0, end: 3, rising: true },
      { start: 3, end: 6, rising: false },
    ]);
  });

  it('ignore reversals smaller than asked', () => {
    const values = [0, 10, 8, 20, 17, 30, 40];
    expect(turningPointLegs(values, 0, 6, 5)).toEqual([{ start: 0, end: 6, rising: true }]);
  });

  it('of a flat stretch are none', () => {
    expect(turningPointLegs([5, 6, 5, 6, 5], 0, 4, 5)).toEqual([]);
  });

  it('start a rise at the last lowest sample, so that waiting is not part of it', () => {
    expect(turningPointLegs([7, 5, 5, 5, 30], 0, 4, 10)).toEqual([{ start: 3, end: 4, rising: true }]);
  });

  it('alternate, touch, and each move by at least the reversal', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: 2, maxLength: 80 }),
        fc.integer({ min: 1, max: 300 }),
        (values, reversal) => {
          const legs = turningPointLegs(values, 0, values.length - 1, reversal);
          for (const [i, leg] of legs.entries()) {
            const move = values[leg.end] - values[leg.start];
            expect(leg.rising ? move : -move).toBeGreaterThanOrEqual(reversal);
            const slice = values.slice(leg.start, leg.end + 1);
            expect(leg.rising ? Math.max(...slice) : Math.min(...slice)).toBe(values[leg.end]);
            if (i > 0) {
              expect(leg.start).toBe(legs[i - 1].end);
              expect(leg.rising).toBe(!legs[i - 1].rising);
            }
          }
          const range = Math.max(...values) - Math.min(...values);
          if (range < reversal) expect(legs).toEqual([]);
        },
      ),
    );
  });
});
