import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { holdAt, interpolateAt } from '../../src/signal/interpolate.ts';

const times = fc
  .uniqueArray(fc.integer({ min: 0, max: 500 }), { minLength: 1, maxLength: 40 })
  .map((ticks) => ticks.toSorted((a, b) => a - b).map((t) => t / 8));
const instants = fc.array(
  fc.integer({ min: -20, max: 600 }).map((t) => t / 8),
  { maxLength: 40 },
);

describe('interpolateAt', () => {
  test('a straight line comes back as itself, in any order of instants, and NaN outside', () => {
    fc.assert(
      fc.property(times, instants, (time, at) => {
        const result = interpolateAt(
          time,
          time.map((t) => 3 * t - 7),
          at,
          Infinity,
        );
        at.forEach((t, k) => {
          const inside = t >= time[0] && t <= time[time.length - 1];
          if (inside) expect(result[k]).toBeCloseTo(3 * t - 7, 9);
          else expect(result[k]).toBeNaN();
        });
      }),
      { numRuns: 100 },
    );
  });

  test('no line is drawn across a gap, but its ends are known', () => {
    expect([...interpolateAt([0, 1, 4], [0, 10, 40], [0, 1, 2.5, 4], 2)]).toEqual([0, 10, Number.NaN, 40]);
  });

  test('a gap equal to its limit passes in spite of rounding', () => {
    // 0.3 − 0.2 is more than 0.1 in binary64 at these times.
    const time = [1000.1, 1000.2, 1000.3];
    expect([...interpolateAt(time, [1, 2, 3], [1000.25], 0.1)][0]).toBeCloseTo(2.5, 6);
  });
});

describe('holdAt', () => {
  test('gives what looking back one by one gives', () => {
    fc.assert(
      fc.property(times, instants, fc.integer({ min: 0, max: 80 }), (time, at, ageTicks) => {
        const values = time.map((_, i) => i);
        const result = holdAt(time, values, at, ageTicks / 8);
        const slow = at.map((t) => {
          const i = time.findLastIndex((sample) => sample <= t);
          return i >= 0 && t - time[i] <= ageTicks / 8 ? values[i] : Number.NaN;
        });
        expect([...result]).toEqual(slow);
      }),
      { numRuns: 100 },
    );
  });
});

test('lengths that differ are refused', () => {
  expect(() => interpolateAt([0, 1], [1], [0], 1)).toThrow(RangeError);
  expect(() => holdAt([0, 1], [1], [0], 1)).toThrow(RangeError);
  expect([...interpolateAt([], [], [1], 1)]).toEqual([Number.NaN]);
});
