import { describe, expect, test } from 'vitest';
import { airDensityKgM3 } from '../../src/engine/air-density.ts';
import { standardPressureKpa } from '../../src/engine/atmosphere.ts';
import { cycleTimeMs } from '../../src/engine/cycle-time.ts';
import { deadTimeMs } from '../../src/engine/dead-time.ts';
import { overallRatio } from '../../src/engine/gear-ratio.ts';
import { injectorDutyPercent } from '../../src/engine/injector-duty.ts';
import { flowAtPressure } from '../../src/engine/orifice-flow.ts';
import { ethanolForStoichRatio, fuelDensityKgL, stoichiometricAfr } from '../../src/engine/stoichiometry.ts';

describe('deadTimeMs', () => {
  const table = [
    [10, 1.8],
    [12, 1.2],
    [14, 0.9],
  ] as const;

  test('interpolates inside, holds the ends outside, meets its points', () => {
    expect([8, 10, 11, 12, 13, 14, 16].map((volts) => deadTimeMs(table, volts))).toEqual([
      1.8,
      1.8,
      1.5,
      1.2,
      expect.closeTo(1.05, 12),
      0.9,
      0.9,
    ]);
    expect(deadTimeMs([[13.5, 1]], 9)).toBe(1);
  });

  test('an empty table is refused', () => {
    expect(() => deadTimeMs([], 13)).toThrow(RangeError);
  });
});

test('duty times the cycle is the time open, on either kind of engine', () => {
  for (const strokes of [2, 4] as const) {
    for (const rpm of [700, 3210, 8000]) {
      const openMs = (injectorDutyPercent(4.2, rpm, 1, strokes) / 100) * cycleTimeMs(rpm, strokes);
      expect(openMs).toBeCloseTo(4.2, 12);
    }
  }
  expect(injectorDutyPercent(3, 0, 1, 4)).toBe(0);
});

test('pressure the wrong way gives no flow', () => {
  expect(flowAtPressure(550, 300, -20)).toBe(0);
  expect(flowAtPressure(550, 300, 300)).toBe(550);
});

test('what cannot be is refused', () => {
  expect(() => cycleTimeMs(0, 4)).toThrow('no cycle time at 0 rpm');
  expect(() => flowAtPressure(550, 0, 300)).toThrow(RangeError);
  expect(() => airDensityKgM3(100, -274)).toThrow(RangeError);
  expect(() => standardPressureKpa(12000)).toThrow('no standard pressure at 12000 m');
  expect(() => overallRatio(3000, 0, 2)).toThrow(RangeError);
  for (const formula of [fuelDensityKgL, stoichiometricAfr]) {
    expect(() => formula(-1)).toThrow(RangeError);
    expect(() => formula(101)).toThrow('ethanol content must be 0 to 100 %, not 101');
  }
  expect(() => ethanolForStoichRatio(Number.NaN, 1)).toThrow(RangeError);
});
