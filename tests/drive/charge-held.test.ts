import { describe, expect, it } from 'vitest';
import { heldMaximum } from '../../src/drive/charge/held.ts';

const time = [0, 1, 2, 3, 4, 5, 6, 7];

describe('held maximum', () => {
  it('is the largest level that a stretch of the wanted length never leaves downward', () => {
    expect(heldMaximum(time, [1, 5, 6, 7, 4, 9, 1, 1], 2, 2)).toMatchObject({ value: 5, startS: 1, endS: 3 });
    expect(heldMaximum(time, [1, 5, 6, 7, 4, 9, 1, 1], 1, 2)).toMatchObject({ value: 6, startS: 2, endS: 3 });
  });
  it('counts two readings where one period is longer than the hold', () =>
    expect(heldMaximum([0, 5, 10], [90, 99, 97], 2, 15)?.value).toBe(97));
  it('does not bridge gaps', () => {
    expect(heldMaximum([0, 1, 30, 31], [90, 99, 99, 91], 1, 3)?.value).toBe(91);
    expect(heldMaximum([0, 30], [90, 99], 1, 3)).toBeUndefined();
  });
  it('agrees with trying every stretch', () => {
    for (let seed = 1; seed < 40; seed++) {
      let state = seed;
      const values = time.map(() => {
        state = (state * 1103515245 + 12345) % 2147483648;
        return state % 17;
      });
      let best = Number.NEGATIVE_INFINITY;
      for (let i = 0; i < time.length; i++) {
        for (let j = i + 1; j < time.length; j++) {
          if (time[j] - time[i] >= 3) best = Math.max(best, Math.min(...values.slice(i, j + 1)));
        }
      }
      expect(heldMaximum(time, values, 3, 2)?.value).toBe(best);
    }
  });
});
