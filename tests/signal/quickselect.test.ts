import fc from 'fast-check';
import { expect, test } from 'vitest';
import { quickselect } from '../../src/signal/quickselect.ts';

const values = fc.array(fc.oneof(fc.integer({ min: -5, max: 5 }), fc.double({ noNaN: true, min: -1e6, max: 1e6 })), {
  minLength: 1,
  maxLength: 200,
});

test('finds what sorting finds, and leaves smaller values before it and greater ones behind', () => {
  fc.assert(
    fc.property(values, fc.nat(), (drawn, at) => {
      const numbers = drawn.map((value) => value + 0);
      const k = at % numbers.length;
      const sorted = Float64Array.from(numbers).sort();
      const selected = Float64Array.from(numbers);
      expect(quickselect(selected, k)).toBe(selected[k]);
      expect(selected[k]).toBe(sorted[k]);
      expect(selected.subarray(0, k).every((value) => value <= selected[k])).toBe(true);
      expect(selected.subarray(k).every((value) => value >= selected[k])).toBe(true);
      expect(selected.slice().sort()).toEqual(sorted);
    }),
    { numRuns: 300 },
  );
});

test('leaves values outside its bounds alone', () => {
  const numbers = Float64Array.of(9, 3, 2, 1, 0);
  expect(quickselect(numbers, 2, 1, 3)).toBe(2);
  expect([...numbers]).toEqual([9, 1, 2, 3, 0]);
});
