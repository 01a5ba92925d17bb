import { describe, expect, it } from 'vitest';
import { saturatedLevel } from '../../src/drive/health/saturation.ts';
import { isTooAlike, noiseBeside } from '../../src/drive/health/too-alike.ts';
import { everySample } from '../support/build-recording.ts';
import { normalDeviates } from '../support/drive-script.ts';

const RATE_HZ = 20;
const time = everySample(RATE_HZ, 6);
/** 40 kPa/s from 100 kPa to the level, then flat. */
const rise = (t: number, level: number) => Math.min(level, 100 + 40 * t);

function trace(options: { level: number; noise?: number; step?: number; top?: number; seed?: number }): Float64Array {
  const { level, noise = 0, step = 0, top = 1e6, seed = 1 } = options;
  const deviate = normalDeviates(seed);
  return time.map((t) => {
    const value = rise(t, level) + noise * deviate();
    return Math.min(top, step > 0 ? step * Math.round(value / step) : value);
  });
}

// SAE J1979: one byte of manifold absolute pressure is 0 to 255 kPa.
const ONE_BYTE = { knownEnds: [255], knownWithin: 0.3 };

describe('a channel at a known end of scale', () => {
  it('is found with its time range', () => {
    const found = saturatedLevel(time, trace({ level: 280, step: 1, top: 255 }), { ...ONE_BYTE, step: 1 });
    expect(found).toMatchObject({ level: 255, by: 'known end', endS: 6 });
    // 255 kPa is reached after (254.5 − 100) / 40 s.
    expect(found?.startS).toBeCloseTo(3.875, 1);
  });

  it('is found in gauge psi with two decimals, air pressure added again', () => {
    const PSI_KPA = 6.894757;
    const values = trace({ level: 280, noise: 0.4, step: 1, top: 255 }).map(
      (kpa) => Number(((kpa - 98.6) / PSI_KPA).toFixed(2)) * PSI_KPA + 98.6,
    );
    expect(saturatedLevel(time, values, { ...ONE_BYTE, step: 0.95 })?.by).toBe('known end');
  });

  it('is found where the maximum is short of it by one conversion, if readings are exactly alike', () => {
    const values = trace({ level: 280, step: 1, top: 255 }).map((kpa) => Math.min(kpa, 254.5));
    expect(saturatedLevel(time, values, ONE_BYTE)?.level).toBe(254.5);
  });

  it('is not two readings that just touch it', () => {
    const values = trace({ level: 240, step: 1 });
    values[60] = 255;
    values[61] = 255;
    expect(saturatedLevel(time, values, ONE_BYTE)).toBeUndefined();
  });

  it('is found at 1 Hz from two readings', () => {
    const slow = Float64Array.of(0, 1, 2, 3);
    expect(saturatedLevel(slow, Float64Array.of(180, 230, 255, 255), ONE_BYTE)?.updates).toBe(2);
  });

  it('is judged by the outermost value of the whole log, where that lies elsewhere', () => {
    const values = trace({ level: 280, step: 1, top: 255 });
    expect(saturatedLevel(time, values, { ...ONE_BYTE, outermost: 270 })).toBeUndefined();
  });

  it('is found at the bottom too', () => {
    const values = time.map((t) => Math.max(0.65, 1 - 0.2 * t));
    expect(saturatedLevel(time, values, { end: 'bottom', knownEnds: [0.65], knownWithin: 0.002 })?.level).toBe(0.65);
  });
});

describe('an end nobody knows', () => {
  it('is found by noise that stops', () => {
    const values = trace({ level: 240, noise: 0.45, step: 0.1, top: 232.4 });
    expect(saturatedLevel(time, values, { step: 0.1 })).toMatchObject({ level: 232.4, by: 'too alike' });
  });

  it.each([1, 2, 3, 4, 5])('is not seen in a noisy level that is not clipped (seed %i)', (seed) => {
    for (const step of [0.1, 0.5, 1]) {
      const values = trace({ level: 232.4, noise: 0.45, step, seed });
      expect(saturatedLevel(time, values, { step })).toBeUndefined();
    }
  });

  it('is not seen in a flat level without noise, coarse or fine, curved or straight, even or with a restless clock', () => {
    for (const step of [0, 0.1, 1]) expect(saturatedLevel(time, trace({ level: 200, step }), { step })).toBeUndefined();
    const curved = time.map((t) => Math.round(10 * (100 + 80 * (1 - Math.exp(-t / 0.5)))) / 10);
    expect(saturatedLevel(time, curved, { step: 0.1 })).toBeUndefined();
    const deviate = normalDeviates(3);
    const restless = time.map((t) => t + 0.005 * deviate()).sort();
    expect(
      saturatedLevel(
        restless,
        restless.map((t) => rise(t, 200)),
      ),
    ).toBeUndefined();
  });
});

it('refuses lists of different lengths', () => {
  expect(() => saturatedLevel(time, new Float64Array(3))).toThrow(RangeError);
});

describe('noise beside a stretch', () => {
  const values = trace({ level: 200, noise: 0.5, seed: 9 });
  it('is about the standard deviation that was put in, the outer fifth left out', () => {
    const noise = noiseBeside(time, values, { from: 110, to: 119 }) ?? 0;
    expect(noise).toBeGreaterThan(0.25);
    expect(noise).toBeLessThan(0.55);
  });
  it('makes ten equal readings impossible and two possible', () => {
    const frozen = values.slice();
    frozen.fill(150, 60, 70);
    expect(isTooAlike(time, frozen, { from: 60, to: 69 }, 0.1)).toBe(true);
    expect(isTooAlike(time, frozen, { from: 60, to: 61 }, 0.1)).toBe(false);
  });
});
