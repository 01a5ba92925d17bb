import { expect, it } from 'vitest';
import { rateOfChange } from '../../src/signal/rate-of-change.ts';
import { everySample } from '../support/build-recording.ts';

it('of a straight line is its slope everywhere, edges included', () => {
  const time = everySample(20, 5);
  const slope = rateOfChange(
    time,
    time.map((t) => 3 - 7 * t),
    0.3,
  );
  // Least squares on exact line values: only rounding is left.
  for (const value of slope) expect(value).toBeCloseTo(-7, 9);
});

it('of a parabola is its derivative inside the window, by symmetry', () => {
  const time = everySample(20, 5);
  const slope = rateOfChange(
    time,
    time.map((t) => t * t),
    0.3,
  );
  for (let i = 6; i < time.length - 6; i++) expect(slope[i]).toBeCloseTo(2 * time[i], 9);
});

it('uses the neighbours where the window is narrower than the sampling', () => {
  const time = Float64Array.from([0, 1, 2, 3]);
  expect([...rateOfChange(time, Float64Array.from([0, 2, 4, 6]), 0.1)]).toEqual([2, 2, 2, 2]);
});

it('leaves out samples without a value, and is no number where fewer than two remain', () => {
  const time = Float64Array.from([0, 1, 2, 3, 4]);
  const slope = rateOfChange(time, Float64Array.from([0, Number.NaN, 4, Number.NaN, Number.NaN]), 0.1);
  expect(slope[1]).toBeCloseTo(2, 9);
  expect(slope[4]).toBeNaN();
});

it('is worked out only where it is asked for', () => {
  const time = everySample(20, 5);
  const values = time.map((t) => t * t);
  const wanted = Uint8Array.from(time, (t) => (t > 2 && t < 3 ? 1 : 0));
  const [all, some] = [rateOfChange(time, values, 0.3), rateOfChange(time, values, 0.3, wanted)];
  for (const [i, slope] of some.entries()) expect(slope).toBe(wanted[i] === 1 ? all[i] : Number.NaN);
});
