import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type FuelDemand, modelledDuty } from '../../src/engine/modelled-duty.ts';

const demand: FuelDemand = {
  airflowGs: 220,
  lambda: 0.8,
  ethanolPercent: 30,
  injectorFlowCcMin: 640,
  ratedPressureKpa: 300,
  differentialKpa: 280,
  deadTimeMs: 0.9,
  rpm: 6200,
  cylinders: 4,
  pulsesPerCycle: 1,
  strokes: 4,
};
const duty = (changes: Partial<FuelDemand>) => modelledDuty({ ...demand, ...changes }).dutyPercent;

describe('modelledDuty', () => {
  test('less pressure, more ethanol and a richer mixture cost injector', () => {
    const base = duty({});
    expect(duty({ differentialKpa: 200 })).toBeGreaterThan(base);
    expect(duty({ ethanolPercent: 85 })).toBeGreaterThan(1.25 * base);
    expect(duty({ lambda: 0.75 })).toBeGreaterThan(base);
    expect(duty({ differentialKpa: 0 })).toBe(Infinity);
  });

  test('two pulses a cycle pay the dead time twice', () => {
    expect(duty({ pulsesPerCycle: 2 }) - duty({})).toBeCloseTo((0.9 * 6200) / 1200, 9);
  });

  test('without air only the dead time is left', () => {
    expect(duty({ airflowGs: 0 })).toBeCloseTo((0.9 * 6200) / 1200, 12);
  });

  test('uncertainty is what a small change of each input makes', () => {
    const names = {
      airflow: 'airflowGs',
      lambda: 'lambda',
      injectorFlow: 'injectorFlowCcMin',
      differential: 'differentialKpa',
      deadTime: 'deadTimeMs',
    } as const;
    for (const [part, input] of Object.entries(names) as [keyof typeof names, (typeof names)[keyof typeof names]][]) {
      const small = 1e-5;
      const slope =
        Math.abs(duty({ [input]: demand[input] * (1 + small) }) - duty({ [input]: demand[input] * (1 - small) })) /
        (2 * small);
      expect(modelledDuty(demand, { [part]: 0.03 }).uncertaintyPercent).toBeCloseTo(0.03 * slope, 6);
    }
  });

  test('independent parts add in squares, and none means exact', () => {
    const part = fc.double({ min: 0, max: 0.2, noNaN: true });
    fc.assert(
      fc.property(part, part, (airflow, deadTime) => {
        const both = modelledDuty(demand, { airflow, deadTime }).uncertaintyPercent;
        const each = [modelledDuty(demand, { airflow }), modelledDuty(demand, { deadTime })];
        expect(both).toBeCloseTo(Math.hypot(...each.map((e) => e.uncertaintyPercent)), 9);
      }),
      { numRuns: 50 },
    );
    expect(modelledDuty(demand).uncertaintyPercent).toBe(0);
  });

  test('what cannot be is refused', () => {
    for (const wrong of [{ lambda: 0 }, { injectorFlowCcMin: 0 }, { cylinders: 0 }])
      expect(() => duty(wrong)).toThrow(RangeError);
  });
});
