import { describe, expect, it } from 'vitest';
import { heldLevels, highestHeld } from '../../src/drive/mixture/held.ts';
import { lagFromStep } from '../../src/drive/mixture/lag-fit.ts';
import { laggedResponse } from '../../src/drive/mixture/response.ts';
import { normalDeviates } from '../support/drive-script.ts';

const every = (rateHz: number, endS: number) =>
  Float64Array.from({ length: Math.round(endS * rateHz) }, (_, i) => i / rateHz);
/** A step from 1 to 0.8 at one second, in a command logged at 50 Hz. */
const time = every(50, 6);
const step = time.map((t) => (t < 1 ? 1 : 0.8));

describe('lagged response', () => {
  it('of a step is delayed, then exponential', () => {
    const at = every(10, 5);
    const response = laggedResponse(time, step, at, 0.3, 0.2);
    at.forEach((t, i) => {
      const since = t - 1.3;
      // The line between the last sample before the step and the first behind it makes it 10 ms early.
      expect(Math.abs(response[i] - (since < 0 ? 1 : 0.8 + 0.2 * Math.exp(-since / 0.2)))).toBeLessThan(0.012);
    });
  });
  it('of a straight line trails it by delay and time constant', () => {
    const line = time.map((t) => 0.1 * t);
    const at = Float64Array.of(4, 5);
    laggedResponse(time, line, at, 0.2, 0.15).forEach((y, i) => {
      expect(y).toBeCloseTo(0.1 * (at[i] - 0.35), 3);
    });
  });
  it('without a lag is the command, and beyond its ends holds', () => {
    expect([...laggedResponse(time, step, Float64Array.of(0, 0.5, 3, 50), 0, 0)]).toEqual([1, 1, 0.8, 0.8]);
  });
});

describe('lag from a step', () => {
  it.each([
    [0, 0.12, 0.004],
    [0.2, 0.1, 0.004],
    [0.3, 0.3, 0.002],
  ])('of %f s and %f s comes back with noise %f', (deadS, tauS, noise) => {
    const at = every(20, 4);
    const deviate = normalDeviates(3);
    // Half as much again as was asked for, and off by 0.05: size and offset do not matter.
    const measured = laggedResponse(time, step, at, deadS, tauS).map((y) => 1.05 + 1.2 * (y - 1) + noise * deviate());
    const fit = lagFromStep(time, step, at, measured);
    expect(Math.abs((fit?.deadS ?? 9) + (fit?.tauS ?? 9) - deadS - tauS)).toBeLessThan(0.06);
  });
  it('is not found where nothing answers', () => {
    const at = every(20, 4);
    const deviate = normalDeviates(4);
    expect(
      lagFromStep(
        time,
        step,
        at,
        at.map(() => 0.9 + 0.01 * deviate()),
      ),
    ).toBeUndefined();
  });
});

describe('held level', () => {
  const levelOf = (rateHz: number, seconds: number) => {
    const at = every(rateHz, 4);
    const values = at.map((t) => (t >= 2 - 1e-9 && t < 2 + seconds - 1e-9 ? 1 : 0));
    return highestHeld(
      at,
      values,
      heldLevels(at, values, () => true, rateHz),
      rateHz,
      0.5,
    );
  };
  it.each([10, 20, 50, 100])('at %f Hz passes 0.3 s and not 0.1 s', (rateHz) => {
    expect(levelOf(rateHz, 0.3)?.value).toBe(1);
    expect(levelOf(rateHz, 0.1)?.value).toBe(0);
  });
  it('at 3 Hz one reading counts, and is called alone', () => {
    expect(levelOf(3, 0.3)).toMatchObject({ value: 1, isLone: true });
    expect(levelOf(3, 0.7)).toMatchObject({ value: 1, isLone: false });
  });
  it('is not made across what is not judged', () => {
    const at = every(20, 4);
    const values = at.map((t) => (Math.abs(t - 2) < 0.3 ? 1 : 0));
    expect(
      highestHeld(
        at,
        values,
        heldLevels(at, values, (i) => Math.abs(at[i] - 2) > 0.25, 20),
        20,
        0.5,
      )?.value,
    ).toBe(0);
  });
});
