import { describe, expect, test } from 'vitest';
import { dampingRatioFromOvershoot } from '../../src/signal/damping.ts';
import { stepResponse } from '../../src/signal/step-response.ts';
import { expectRelative } from './relative.ts';

/** Unit step of a second-order system (closed form). */
function secondOrder(zeta: number, naturalRadS: number, t: number): number {
  const root = Math.sqrt(1 - zeta * zeta);
  const phase = naturalRadS * root * t;
  return 1 - Math.exp(-zeta * naturalRadS * t) * (Math.cos(phase) + (zeta / root) * Math.sin(phase));
}

const grid = (stepS: number, untilS: number) =>
  Float64Array.from({ length: Math.round(untilS / stepS) + 1 }, (_, i) => i * stepS);

describe('second-order step response, closed form', () => {
  // Damping ratio, overshoot %, peak time, damped frequency, 2 % settling, 10–90 % rise; natural frequency 1 rad/s.
  test.each([
    [0.2, 52.6620599, 3.20637458, 0.979795897, 19.6019037, 1.2034299],
    [0.3, 37.2326105, 3.29328394, 0.953939201, 11.2300815, 1.32133998],
    [0.4, 25.3826722, 3.4277586, 0.916515139, 8.40931963, 1.4634912],
    [0.5, 16.3033535, 3.62759873, 0.866025404, 8.07634897, 1.63757295],
    [0.6, 9.47802248, 3.92699082, 0.8, 5.94298788, 1.85405035],
    [0.7, 4.59879103, 4.39910962, 0.714142843, 5.97879237, 2.12620187],
    [0.8, 1.51646199, 5.23598776, 0.6, 3.75584131, 2.46749263],
  ])('damping ratio %d', (zeta, overshoot, peakTime, dampedRadS, settling, rise) => {
    const time = grid(0.001, 40);
    const values = time.map((t) => secondOrder(zeta, 1, t));
    const response = stepResponse(time, values, { start: 0, settledLevelAt: () => 1, bandHalfWidth: 0.02 });
    expect(100 * (response.peak?.excess ?? Number.NaN)).toBeCloseTo(overshoot, 4);
    expect(Math.abs((response.peak?.timeS ?? Number.NaN) - peakTime)).toBeLessThanOrEqual(0.0005);
    expect(response.settlingTimeS).toBeCloseTo(settling, 5);
    expect(response.riseTimeS).toBeCloseTo(rise, 5);

    // The first trough is the square of the overshoot: inside the band it is no oscillation.
    const swings = (overshoot / 100) ** 2 > 0.02;
    expect(response.periodS !== undefined).toBe(swings);
    expect(response.dampingRatio !== undefined).toBe(swings);
    const fine = stepResponse(time, values, { start: 0, settledLevelAt: () => 1, bandHalfWidth: 1e-4 });
    expectRelative(fine.periodS ?? Number.NaN, (2 * Math.PI) / dampedRadS, 1e-3);
    expectRelative(fine.dampingRatio ?? Number.NaN, zeta, 1e-3);
  });

  test('damping ratio 0.3 at 10 rad/s: peak at 0.3293 s, 37.23 % (as printed by overshoot calculators)', () => {
    const time = grid(0.0001, 2);
    const values = time.map((t) => secondOrder(0.3, 10, t));
    const { peak } = stepResponse(time, values, { start: 0, settledLevelAt: () => 1, bandHalfWidth: 0.02 });
    expect(peak?.timeS).toBeCloseTo(0.3293, 4);
    expect(peak?.excess).toBeCloseTo(0.3723, 4);
  });

  test('a falling step is measured the same way', () => {
    const time = grid(0.001, 40);
    const values = time.map((t) => 200 - 100 * secondOrder(0.4, 1, t));
    const response = stepResponse(time, values, { start: 0, settledLevelAt: () => 100, bandHalfWidth: 2 });
    expect(response.peak?.excess).toBeCloseTo(-25.3826722, 4);
    expect(response.riseTimeS).toBeCloseTo(1.4634912, 5);
    expect(response.settlingTimeS).toBeCloseTo(8.40931963, 5);
  });

  test('first-order lag: 10–90 % in ln 9, 2 % settling in ln 50 time constants, no overshoot', () => {
    const time = grid(0.001, 20);
    const values = time.map((t) => 1 - Math.exp(-t));
    expect(values[1000]).toBeCloseTo(0.6321205588, 9);
    const response = stepResponse(time, values, { start: 0, settledLevelAt: () => 1, bandHalfWidth: 0.02 });
    expect(response.riseTimeS).toBeCloseTo(2.197224577, 5);
    expect(response.settlingTimeS).toBeCloseTo(3.912023005, 5);
    expect(response.peak).toBeUndefined();
    expect(response.extrema).toEqual([]);
  });

  test('sampling hides the peak: 20 Hz shows 225.024 kPa at 0.30 s of a true 225.383 kPa at 0.286 s', () => {
    // Printed to 1e-6 kPa: damping ratio 0.4, 12 rad/s, from 100 to 200 kPa.
    const printed = [
      100, 114.992461, 147.85655, 182.660523, 209.00782, 222.811694, 225.023752, 219.449207, 210.603208, 202.187384,
      196.372879, 193.781376, 193.903275, 195.67036, 197.965146, 199.949732, 201.191708, 201.62956, 201.448342,
      200.934337, 200.357029, 199.900735, 199.645932, 199.586507,
    ];
    const time = grid(0.05, 1.15);
    const computed = time.map((t) => 100 + 100 * secondOrder(0.4, 12, t));
    for (let i = 0; i < printed.length; i++) expect(Math.abs(computed[i] - printed[i])).toBeLessThan(1e-6);
    const response = stepResponse(time, printed, { start: 0, settledLevelAt: () => 200, bandHalfWidth: 1 });
    expect(response.peak).toMatchObject({
      index: 6,
      timeS: expect.closeTo(0.3, 9),
      excess: expect.closeTo(25.023752, 6),
    });
    expect(response.extrema.map((e) => e.index)).toEqual([6, 11, 17]);
    expectRelative(response.dampingRatio ?? Number.NaN, 0.4, 0.05);
    expectRelative(response.periodS ?? Number.NaN, (2 * Math.PI) / (12 * Math.sqrt(1 - 0.16)), 0.05);
  });
});

describe('damping ratio from overshoot', () => {
  // Closed form; the four-digit figures are printed by overshoot calculators.
  test.each([
    [0.05, 0.6901067306, 0.6901],
    [0.1, 0.5911550338, 0.5912],
    [0.2, 0.4559498108, 0.4559],
    [0.3, 0.3578571305, 0.3579],
    [0.5, 0.215453762, 0.2155],
  ])('overshoot %d', (overshoot, exact, printed) => {
    expectRelative(dampingRatioFromOvershoot(overshoot), exact, 1e-9);
    expect(Math.abs(dampingRatioFromOvershoot(overshoot) - printed)).toBeLessThan(6e-5);
  });
});
