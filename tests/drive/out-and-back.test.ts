import { describe, expect, it } from 'vitest';
import { outAndBack } from '../../src/drive/out-and-back.ts';

const reach = { step: 40, edgeS: 0.1, longestS: 0.5, perS: 400 };
const times = (n: number, rateHz: number) => Float64Array.from({ length: n }, (_, i) => i / rateHz);
const flat = (n: number, level: number) => new Float64Array(n).fill(level);
const found = (values: Float64Array, rateHz = 20, more = {}) =>
  outAndBack(times(values.length, rateHz), values, { ...reach, ...more }).map(({ from, to }) => [from, to]);

describe('readings that leave and come back', () => {
  it.each([1, 2, 5, 10])('%i of them are one stretch', (n) => {
    for (const level of [0, 200]) {
      const values = flat(40, 90);
      values.fill(level, 12, 12 + n);
      expect(found(values)).toEqual([[12, 11 + n]]);
    }
  });
  it('are none where they stay away for longer', () => {
    const values = flat(60, 90);
    values.fill(0, 12, 24);
    expect(found(values)).toEqual([]);
    expect(found(values, 20, { longestS: 0.6 })).toEqual([[12, 23]]);
  });
  it('are none where they stay at another level, or never come back', () => {
    const values = flat(60, 90);
    values.fill(0, 12, 16);
    values.fill(45, 16);
    expect(found(values)).toEqual([]);
    expect(found(flat(60, 90).fill(0, 40))).toEqual([]);
  });
  it('are none where either edge is a slope that the quantity can do', () => {
    const values = flat(40, 90);
    for (let i = 0; i < 10; i++) values[12 + i] = 90 - 15 * Math.min(i, 9 - i);
    expect(found(values)).toEqual([]);
  });
  it('have their size, and lie within the level on both sides', () => {
    const values = flat(40, 90);
    values.fill(190, 5, 8);
    values.fill(-10, 20, 22);
    const away = outAndBack(times(40, 20), values, reach);
    expect(away.map(({ size }) => size)).toEqual([100, 100]);
  });
  it('only lone ones count where longer ones may be real', () => {
    const values = flat(40, 90);
    values[5] = 190;
    values.fill(190, 20, 22);
    expect(found(values, 20, { longestS: 0 })).toEqual([[5, 5]]);
  });
  it('are none at the ends of the log', () => {
    const values = flat(20, 90);
    values[0] = 0;
    values[19] = 0;
    expect(found(values)).toEqual([]);
  });
});
