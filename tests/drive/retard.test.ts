import { describe, expect, it } from 'vitest';
import type { Pull } from '../../src/drive/drive.ts';
import type { RetardEvent } from '../../src/drive/retard/classify.ts';
import { retardRises } from '../../src/drive/retard/events.ts';
import { repeatedRetard } from '../../src/drive/retard/repeat.ts';
import type { RetardTrack } from '../../src/drive/retard/tracks.ts';
import { everySample } from '../support/build-recording.ts';

function track(rateHz: number, shape: (t: number) => number, endS = 20): RetardTrack {
  const time = everySample(rateHz, endS);
  return {
    time,
    values: time.map(shape),
    rpm: time.map((t) => 2000 + 200 * t),
    rateHz,
    basis: 'cylinder',
    cylinder: 1,
    label: 'cylinder 1',
    restDeg: 0,
    stepDeg: 0,
    noiseDeg: 0,
    thresholdDeg: 0.6,
  };
}
const knock = (atS: number, deg: number, backPerS: number) => (t: number) =>
  t < atS ? 0 : Math.max(0, deg - backPerS * (t - atS));

describe('rises of retard', () => {
  for (const rateHz of [4, 10, 20, 100]) {
    it(`at ${rateHz} Hz have onset, peak, half-life and shape`, () => {
      const rises = retardRises(track(rateHz, knock(10, 4, 1)), []);
      expect(rises).toHaveLength(1);
      expect(rises[0].peakDeg).toBeCloseTo(4, 6);
      expect(rises[0].onsetS).toBeGreaterThan(10 - 1.01 / rateHz);
      expect(rises[0].peakS).toBeCloseTo(10, 6);
      // 4° given back at 1 deg/s is at half after 2 s.
      expect(Math.abs(rises[0].endS - 12)).toBeLessThan(1.01 / rateHz);
      expect(rises[0].shape).toBe('fast-in-slow-out');
      expect(Math.abs(rises[0].peakRpm - 4000)).toBeLessThan(1.01 * (200 / rateHz));
    });
  }
  it('that follow one another while the first still fades are told apart', () => {
    const two = (t: number) => Math.max(knock(8, 4, 1)(t), knock(10.5, 5, 1)(t));
    expect(retardRises(track(20, two), []).map((rise) => Math.round(rise.peakDeg))).toEqual([4, 5]);
  });
  it('hidden under a bigger jump before they faded are told apart', () => {
    const cut = (t: number) => (t >= 11 && t < 11.3 ? 12 : knock(10, 5, 0.3)(t));
    expect(retardRises(track(20, cut), []).map((rise) => Math.round(rise.peakDeg))).toEqual([5, 12]);
  });
  it('end with the pull where it ends, whatever the lift adds', () => {
    const lift = (t: number) => (t >= 10.5 && t < 11 ? 9 : knock(10, 5, 0.3)(t));
    const rises = retardRises(track(2, lift), [10.2]);
    expect(rises.map((rise) => Math.round(rise.peakDeg))).toEqual([5, 9]);
  });
  it('of one sample are blips at a high rate only', () => {
    const blip = (t: number) => (Math.abs(t - 10) < 0.01 ? 4 : 0);
    expect(retardRises(track(20, blip), [])[0].shape).toBe('blip');
    expect(retardRises(track(4, blip), [])[0].shape).toBe('fast-in-slow-out');
  });
  it('that build up are slow, and nothing below the threshold counts', () => {
    expect(
      retardRises(
        track(20, (t) => (t < 5 ? 0 : Math.min(4, t - 5))),
        [],
      )[0].shape,
    ).toBe('slow-in');
    expect(retardRises(track(20, knock(10, 0.5, 1)), [])).toEqual([]);
  });
});

describe('repetition', () => {
  const pulls = [1, 2, 3].map(
    (id) => ({ id, startS: 20 * id, endS: 20 * id + 5, rpm: [2500, 6500] }) as unknown as Pull,
  );
  const one = track(20, () => 0);
  const other = { ...one, cylinder: 2 };
  const event = (pull: number, peakDeg: number, peakRpm: number, on = one) =>
    ({ pull: pulls[pull - 1], peakDeg, peakRpm, peakS: 20 * pull, track: on, kind: 'knock' }) as unknown as RetardEvent;

  it('is what at least two pulls reach: the second highest of the pulls’ highest', () => {
    const repeat = repeatedRetard([event(1, 6, 5000), event(2, 4, 5100), event(3, 3, 4950), event(1, 1, 5000)]);
    expect(repeat?.deg).toBe(4);
    expect(repeat?.events.map((e) => e.pull?.id)).toEqual([1, 2, 3]);
    expect(repeat?.rpm).toEqual([4950, 5100]);
  });
  it('is none in one pull, on two cylinders, or in two bands', () => {
    expect(repeatedRetard([event(1, 6, 5000), event(1, 6, 5050)])).toBeUndefined();
    expect(repeatedRetard([event(1, 6, 5000), event(2, 6, 5000, other)])).toBeUndefined();
    expect(repeatedRetard([event(1, 6, 5000), event(2, 6, 5400)])).toBeUndefined();
  });
  it('takes the worst band', () => {
    const repeat = repeatedRetard([event(1, 3, 4000), event(2, 3, 4000), event(1, 5, 6000), event(2, 4.5, 6100)]);
    expect(repeat?.deg).toBe(4.5);
  });
});
