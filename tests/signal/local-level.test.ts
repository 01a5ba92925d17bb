import fc from 'fast-check';
import { expect, test } from 'vitest';
import { runningMedian } from '../../src/signal/local-level.ts';
import { median } from '../../src/signal/median.ts';

test('gives what sorting every window gives, also with uneven times and ties', () => {
  const steps = fc.array(fc.tuple(fc.integer({ min: 0, max: 6 }), fc.integer({ min: -4, max: 4 })), {
    minLength: 1,
    maxLength: 60,
  });
  fc.assert(
    fc.property(steps, fc.integer({ min: 0, max: 30 }), (pairs, halfTicks) => {
      const time = pairs.map((_, i) => pairs.slice(0, i + 1).reduce((ticks, [step]) => ticks + step, 0) / 8);
      const values = pairs.map(([, value]) => value);
      const slow = time.map((t) => median(values.filter((_, j) => Math.abs(time[j] - t) <= halfTicks / 8)));
      expect([...runningMedian(time, values, halfTicks / 4)]).toEqual(slow);
    }),
    { numRuns: 200 },
  );
});

test('an excursion shorter than half the window leaves the level alone', () => {
  const time = Float64Array.from({ length: 200 }, (_, i) => i / 20);
  const values = time.map((_, i) => (i >= 100 && i < 108 ? 180 : 150));
  expect(runningMedian(time, values, 1).every((level) => level === 150)).toBe(true);
});

test('misuse is refused', () => {
  expect(() => runningMedian([0, 1], [1], 1)).toThrow(RangeError);
  expect(() => runningMedian([0], [1], -1)).toThrow(RangeError);
  expect([...runningMedian([], [], 1)]).toEqual([]);
});
