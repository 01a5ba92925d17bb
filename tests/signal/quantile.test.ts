import { expect, test } from 'vitest';
import { median } from '../../src/signal/median.ts';
import { quantile } from '../../src/signal/quantile.ts';
import { robustSpread } from '../../src/signal/robust-spread.ts';
import { rowIntervalS } from '../../src/signal/row-interval.ts';

test('the input keeps its order', () => {
  const values = Float64Array.of(3, 1, 2);
  expect([median(values), quantile(values, 0), quantile(values, 1)]).toEqual([2, 1, 3]);
  expect([...values]).toEqual([3, 1, 2]);
});

test('nothing to measure and impossible shares are refused', () => {
  expect(() => median([])).toThrow(RangeError);
  expect(() => robustSpread([])).toThrow(RangeError);
  expect(() => quantile([], 0.5)).toThrow(RangeError);
  expect(() => quantile([1], 1.1)).toThrow('a share from 0 to 1, not 1.1');
  expect(() => quantile([1], Number.NaN)).toThrow(RangeError);
});

test('a row interval passes over pauses and repeated times, and needs two instants', () => {
  expect(rowIntervalS([0, 0, 0.5, 1, 90, 90.5])).toBe(0.5);
  expect(rowIntervalS([4])).toBeNaN();
});
