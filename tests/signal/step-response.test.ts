import { describe, expect, test } from 'vitest';
import { dampingRatioFromOvershoot } from '../../src/signal/damping.ts';
import { stepResponse } from '../../src/signal/step-response.ts';
import { normalFrom, seededRandom } from './seeded-random.ts';

const time = Float64Array.from({ length: 161 }, (_, i) => i / 20);
const lag = (t: number) => 120 - 80 * Math.exp(-t / 0.5);
const to = (level: number, band: number) => ({ start: 0, settledLevelAt: () => level, bandHalfWidth: band });

describe('stepResponse', () => {
  test('noise inside the band is neither overshoot, nor oscillation, nor late settling', () => {
    const normal = normalFrom(seededRandom(6));
    const values = time.map((t) => lag(t) + 0.5 * normal());
    const response = stepResponse(time, values, to(120, 2.5));
    expect(response.periodS).toBeUndefined();
    expect(response.dampingRatio).toBeUndefined();
    expect(response.extrema).toEqual([]);
    expect(response.peak?.excess).toBeLessThan(2.5);
    expect(response.settlingTimeS).toBeGreaterThan(1);
    expect(response.settlingTimeS).toBeLessThan(2.2);
  });

  test('a spike long after the rise is not the peak of the first swing', () => {
    const values = time.map((t, i) => Math.min(120.2, lag(t) + 1) + (i === 120 ? 30 : 0));
    const response = stepResponse(time, values, to(120, 2));
    expect(response.peak?.excess).toBeLessThan(1);
    expect(response.extrema).toEqual([{ index: 120, timeS: 6, excess: expect.closeTo(30.2, 6) }]);
  });

  test('against a sloping level the first swing is measured from the line', () => {
    const values = time.map((t) => 120 - 80 * Math.exp(-t / 0.5) * Math.cos(2 * Math.PI * t) + 2 * t);
    const response = stepResponse(time, values, {
      start: 0,
      settledLevelAt: (i) => 120 + 2 * time[i],
      bandHalfWidth: 1,
    });
    const flat = stepResponse(
      time,
      values.map((v, i) => v - 2 * time[i]),
      to(120, 1),
    );
    expect(response.riseTimeS).toBeCloseTo(flat.riseTimeS ?? Number.NaN, 9);
    expect(response.peak?.excess).toBeCloseTo(flat.peak?.excess ?? Number.NaN, 9);
    expect(response.periodS).toBeCloseTo(1, 1);
  });

  test('a growing oscillation has a negative damping ratio', () => {
    const values = time.map((t) => 100 - 4 * Math.exp(t / 4) * Math.cos(2 * Math.PI * t));
    const response = stepResponse(time, values, to(100, 1));
    expect(response.dampingRatio).toBeLessThan(0);
    expect(response.settlingTimeS).toBeUndefined();
    expect(response.periodS).toBeCloseTo(1, 1);
  });

  test('a level never reached has no peak and no reaching time', () => {
    const response = stepResponse(time, time.map(lag), to(200, 2));
    expect(response).toMatchObject({
      peak: undefined,
      reachedS: undefined,
      settlingTimeS: undefined,
      riseTimeS: undefined,
    });
    expect(response.extrema).toEqual([]);
  });

  test('a signal at its level from the start is settled at once', () => {
    const response = stepResponse([0, 1, 2], [5, 5, 5], to(5, 0.1));
    expect(response).toMatchObject({ reachedS: 0, settlingTimeS: 0, riseTimeS: undefined, periodS: undefined });
    expect(response.peak).toEqual({ index: 0, timeS: 0, excess: 0 });
  });

  test('times count from the start of the step, wherever in the log it is', () => {
    const late = time.map((t) => t + 500);
    const values = [40, 40, 40, ...time.map(lag)].slice(0, time.length);
    const shifted = stepResponse(late, values, { start: 3, settledLevelAt: () => 120, bandHalfWidth: 2 });
    const plain = stepResponse(time, time.map(lag), to(120, 2));
    expect(shifted.riseTimeS).toBeCloseTo(plain.riseTimeS ?? Number.NaN, 9);
    expect(shifted.settlingTimeS).toBeCloseTo(plain.settlingTimeS ?? Number.NaN, 9);
  });

  test('misuse is refused', () => {
    expect(() => stepResponse([0, 1], [1], to(1, 1))).toThrow(RangeError);
    expect(() => stepResponse([0], [1], { start: 1, settledLevelAt: () => 1, bandHalfWidth: 1 })).toThrow(RangeError);
    expect(() => dampingRatioFromOvershoot(0)).toThrow(RangeError);
  });
});
