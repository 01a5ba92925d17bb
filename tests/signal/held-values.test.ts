import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findUpdates } from '../../src/signal/held-values.ts';
import { logSignal, SIGNALS, type SignalKind, trueSignal } from './base-run.ts';
import { seededRandom } from './seeded-random.ts';

const rowHz = fc.constantFrom(1, 2, 5, 10, 20, 25, 50, 100);
const seed = fc.integer({ min: 1, max: 1e9 });
const jitter = fc.constantFrom(0, 0.3);
const coarseness = fc.constantFrom(0.1, 1);
const noisiness = fc.constantFrom(0.2, 1, 4);

/** Long enough to hold a few pulls, short enough to stay quick at 100 Hz. */
const durationAt = (hz: number) => (hz >= 50 ? 120 : 240);

describe('a log with a new value at every row', () => {
  test.each(Object.keys(SIGNALS) as SignalKind[])(
    '%s is never taken as held, whatever the rate and the scale',
    (kind) => {
      fc.assert(
        fc.property(rowHz, seed, jitter, coarseness, noisiness, (hz, seedValue, jitterShare, coarse, noisy) => {
          const uniform = seededRandom(seedValue);
          const durationS = durationAt(hz);
          const { time, values } = logSignal(trueSignal(kind, uniform, durationS), uniform, {
            rowHz: hz,
            durationS,
            heldRows: 1,
            jitter: jitterShare,
            step: SIGNALS[kind].step * coarse,
            noise: SIGNALS[kind].noise * noisy,
          });
          const updates = findUpdates(time, values);
          expect(updates.rateHz / hz).toBeCloseTo(1, 1);
          expect(updates.keep.length).toBe(values.length);
        }),
        { numRuns: 16, seed: 20 },
      );
    },
  );

  const n = 4000;
  const time = Float64Array.from({ length: n }, (_, i) => i / 20);
  const smooth: Record<string, (t: number) => number> = {
    'a constant': () => 14,
    'a ramp on a coarse scale': (t) => Math.round(20 + 0.13 * t),
    'a ramp in °C shown in whole °F': (t) => Math.round(Math.round(20 + 0.31 * t) * 1.8 + 32),
    'a ramp in one-byte percent shown with one decimal': (t) => Math.round(Math.round(t * 0.4) * 3.92157) / 10,
    'a warm-up': (t) => Math.round(90 - 70 * Math.exp(-t / 80)),
    'a slow sine': (t) => Math.round(6 * Math.sin(0.7 * t)),
    'a triangle': (t) => Math.round(9 * Math.abs(((t / 4) % 2) - 1)),
    'two levels in turn': (t) => (Math.floor(t) % 2 === 0 ? 0.1 : 0.8),
    'a gear': (t) => 1 + (Math.floor(t / 4) % 4),
    'a target that jumps and ramps': (t) => (t % 30 < 20 ? 0 : Math.min(150, ((t % 30) - 20) * 75)),
  };
  test.each(Object.keys(smooth))('%s without noise is not held', (name) => {
    const updates = findUpdates(time, time.map(smooth[name]));
    expect(updates.periodS).toBeCloseTo(0.05, 9);
    expect(updates.keep.length).toBe(n);
  });

  test('retard that falls back in steps after each knock is not held', () => {
    const uniform = seededRandom(5);
    const values: number[] = [];
    let notches = 0;
    let nextStepS = 0;
    for (const t of time) {
      if (uniform() < 0.01) {
        notches = Math.min(22, notches + 2 + Math.floor(8 * uniform()));
        nextStepS = t + 0.2;
      } else if (t >= nextStepS - 1e-9 && notches > 0) {
        notches--;
        nextStepS = t + 0.2;
      }
      values.push(Math.round(notches * 3.5) / 10);
    }
    expect(findUpdates(time, values).rateHz).toBeCloseTo(20, 6);
  });

  test('values that repeat by chance are not held: boost in whole kPa with little noise', () => {
    const uniform = seededRandom(11);
    const values = time.map(() => Math.round(150 + uniform() * 2.4));
    expect(findUpdates(time, values).rateHz).toBeCloseTo(20, 6);
  });
});

describe('a log that repeats held values', () => {
  const moving = ['boost', 'speed', 'lambda', 'throttle'] as const;
  // Polls by row count from two rows up, and polls by a clock of their own from a little more. Slower than 1 Hz, too few
  // updates fall into a pull; faster than 20 Hz, a coarse scale moves by less than a few notches at once.
  const held = fc.oneof(fc.constantFrom(2, 3, 4, 5, 8, 10, 16, 25), fc.double({ min: 2.2, max: 25, noNaN: true }));

  test.each(moving)('%s: the period is found, whatever the rate, the scale and the clock', (kind) => {
    let missed = 0;
    let runs = 0;
    fc.assert(
      fc.property(rowHz, seed, jitter, coarseness, held, (hz, seedValue, jitterShare, coarse, heldRows) => {
        fc.pre(hz / heldRows >= 1 && hz / heldRows <= 20);
        const uniform = seededRandom(seedValue);
        const durationS = durationAt(hz);
        const { time, values } = logSignal(trueSignal(kind, uniform, durationS), uniform, {
          rowHz: hz,
          durationS,
          heldRows,
          jitter: jitterShare,
          step: SIGNALS[kind].step * coarse,
          noise: SIGNALS[kind].noise,
        });
        const updates = findUpdates(time, values);
        runs++;
        if (Math.abs((updates.periodS * hz) / heldRows - 1) > 0.1) missed++;
      }),
      { numRuns: 40, seed: 7 },
    );
    expect(runs).toBe(40);
    expect(missed).toBeLessThanOrEqual(1);
  });

  test.each([
    [50, 2],
    [100, 1],
    [100, 2],
    [20, 4],
  ])('at %i rows a second a value held for %f s is seen through', (hz, heldS) => {
    let missed = 0;
    for (let i = 1; i <= 12; i++) {
      const uniform = seededRandom(i);
      const { time, values } = logSignal(trueSignal(moving[i % moving.length], uniform, 150), uniform, {
        rowHz: hz,
        durationS: 150,
        heldRows: hz * heldS,
        jitter: 0,
        step: SIGNALS[moving[i % moving.length]].step,
        noise: SIGNALS[moving[i % moving.length]].noise,
      });
      if (Math.abs(findUpdates(time, values).periodS / heldS - 1) > 0.1) missed++;
    }
    expect(missed).toBeLessThanOrEqual(1);
  });

  test('a boost log at 20 Hz polled four times a second, one pull, in whole kPa', () => {
    const time = Float64Array.from({ length: 20 * 30 }, (_, i) => i / 20);
    const polled = (t: number) => {
      const into = t - 15;
      return Math.round(into < 0 ? 36 + Math.sin(9 * t) : into < 6 ? 220 - 170 * Math.exp(-into / 0.6) : 40);
    };
    const values = time.map((_, i) => polled(Math.floor(i / 5) / 4));
    const updates = findUpdates(time, values);
    expect(updates.periodS).toBeCloseTo(0.25, 9);
    expect(updates.rateHz).toBeCloseTo(4, 9);
    expect([...updates.keep]).toEqual(Array.from({ length: 120 }, (_, k) => 5 * k));
  });

  test('a dithering idle signal, one notch up and down, shows its period by the multiples', () => {
    const uniform = seededRandom(3);
    const time = Float64Array.from({ length: 6000 }, (_, i) => i / 20);
    let level = 10;
    const values = time.map((_, i) => {
      if (i % 8 === 0) level = Math.min(14, Math.max(8, level + Math.floor(3 * uniform()) - 1));
      return level;
    });
    expect(findUpdates(time, values).periodS).toBeCloseTo(0.4, 9);
  });

  test('a pause in the log does not stretch the period', () => {
    const uniform = seededRandom(8);
    const signal = trueSignal('boost', uniform, 200);
    const { time, values } = logSignal(signal, uniform, {
      rowHz: 20,
      durationS: 200,
      heldRows: 5,
      jitter: 0,
      step: 1,
      noise: 0.4,
    });
    const paused = time.map((t) => (t > 97 ? t + 60 : t));
    expect(findUpdates(paused, values).periodS).toBeCloseTo(0.25, 6);
  });
});

describe('the rows kept', () => {
  test('hold every change, the first row, and no two rows nearer than a period would allow', () => {
    fc.assert(
      fc.property(seed, fc.integer({ min: 3, max: 12 }), (seedValue, heldRows) => {
        const uniform = seededRandom(seedValue);
        const { time, values } = logSignal(trueSignal('boost', uniform, 240), uniform, {
          rowHz: 20,
          durationS: 240,
          heldRows,
          jitter: 0,
          step: 1,
          noise: 0.4,
        });
        const { keep, periodS } = findUpdates(time, values);
        const kept = new Set(keep);
        expect(kept.has(0)).toBe(true);
        const changed = [...values.keys()].filter((i) => i > 0 && values[i] !== values[i - 1]);
        expect(changed.every((i) => kept.has(i))).toBe(true);
        expect(Math.min(...keep.slice(2).map((row, k) => row - keep[k + 1]))).toBeGreaterThanOrEqual(heldRows - 1);
        expect(periodS).toBeCloseTo(heldRows / 20, 6);
        expect(Math.abs(keep.length - values.length / heldRows)).toBeLessThanOrEqual(2);
      }),
      { numRuns: 10, seed: 4 },
    );
  });

  test('fewer than two rows have no rate', () => {
    expect(findUpdates([], [])).toEqual({ periodS: Number.NaN, rateHz: Number.NaN, keep: new Uint32Array(0) });
    expect(findUpdates([3], [1]).rateHz).toBeNaN();
    expect(() => findUpdates([1, 2], [1])).toThrow(RangeError);
  });
});
