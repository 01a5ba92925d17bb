import { describe, expect, test } from 'vitest';
import { cycleTimeMs } from '../../src/engine/cycle-time.ts';
import { injectorDifferentialKpa } from '../../src/engine/injector-differential.ts';
import { injectorDutyPercent } from '../../src/engine/injector-duty.ts';
import { flowAtPressure } from '../../src/engine/orifice-flow.ts';
import { expectRelative } from './relative.ts';

describe('cycle time and injector duty, closed form', () => {
  test.each([
    [800, 150],
    [3000, 40],
    [6000, 20],
    [7000, 17.1428571428571],
  ])('four-stroke cycle at %d rpm', (rpm, ms) => {
    expectRelative(cycleTimeMs(rpm, 4), ms, 1e-12);
    expectRelative(cycleTimeMs(rpm, 2), ms / 2, 1e-12);
  });

  test.each([
    [3.0, 800, 2],
    [10, 6000, 50],
    [12, 6500, 65],
    [14.2, 7000, 82.8333333333333],
    [20, 6000, 100],
    [18.5, 6500, 100.208333333333],
    [14.2 - 0.9, 7000, 77.5833333333333],
  ])('%d ms at %d rpm, one pulse per cycle', (ms, rpm, percent) => {
    expectRelative(injectorDutyPercent(ms, rpm, 1, 4), percent, 1e-12);
  });

  test('1200 holds for one pulse in two revolutions; one pulse a revolution needs 600', () => {
    expectRelative(injectorDutyPercent(7.1, 7000, 2, 4), 82.8333333333333, 1e-12);
    expectRelative(injectorDutyPercent(7.1, 7000, 2, 4), (100 * 7.1 * 7000) / 600 / 100, 1e-12);
    expectRelative(injectorDutyPercent(7.1, 7000, 1, 2), 82.8333333333333, 1e-12);
  });
});

describe('flow and pressure, Bernoulli', () => {
  test.each([
    [550, 300, 400, 635.08529611],
    [550, 300, 350, 594.06789735],
    [1, 100, 90, 0.9486832981],
  ])('%d at %d kPa across, now %d kPa', (flow, rated, actual, expected) => {
    expectRelative(flowAtPressure(flow, rated, actual), expected, 1e-10);
  });

  test('without manifold reference boost takes from the injector: 251 of 400 kPa, 21 % less flow', () => {
    const differential = injectorDifferentialKpa('fixed', 400, 101, 250);
    expect(differential).toBe(251);
    expectRelative(flowAtPressure(1, 400, differential), 0.7921489759, 1e-9);
    expect(injectorDifferentialKpa('manifold-referenced', 400, 101, 250)).toBe(400);
  });
});
