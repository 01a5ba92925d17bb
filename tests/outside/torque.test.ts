import { describe, expect, test } from 'vitest';
import { brakePowerKw, brakeSpecificFuelConsumption, torqueFromPowerNm } from '../../src/engine/brake-torque.ts';
import { lowerHeatingValueMjKg } from '../../src/engine/heating-value.ts';
import { brakeMeanEffectivePressureKpa } from '../../src/engine/mean-effective-pressure.ts';
import { powerCorrection } from '../../src/engine/power-correction.ts';
import { pressureRatio } from '../../src/engine/pressure-ratio.ts';
import { stoichiometricAfr } from '../../src/engine/stoichiometry.ts';
import { expectRelative } from './relative.ts';

describe('heating value, U.S. DOE Alternative Fuels Data Center, Properties of Fuels', () => {
  test('petrol, 18,676 Btu/lb', () => expectRelative(lowerHeatingValueMjKg(0), 43.440376, 1e-7));
  test('ethanol, 11,585 Btu/lb', () => expectRelative(lowerHeatingValueMjKg(100), 26.94671, 1e-7));
  test.each([
    [0, 2.95513],
    [100, 2.99408],
  ])('heat for each kg of air that %d %% ethanol burns with (stoichiometric 14.7 and 9.0)', (ethanol, perAir) =>
    expectRelative(lowerHeatingValueMjKg(ethanol) / stoichiometricAfr(ethanol), perAir, 6e-4),
  );
});

describe('power, torque and mean effective pressure, closed form', () => {
  test('P = T ω: 500 N m at 5,000 rpm are 261.8 kW', () =>
    expectRelative(torqueFromPowerNm(261.79938779915, 5000), 500, 1e-12));
  // p = T nc 2π/V ("Mean effective pressure: derivation", liquisearch.com).
  test('400 N m from 2.0 L in a four-stroke', () =>
    expectRelative(brakeMeanEffectivePressureKpa(400, 2, 4), 2513.2741229, 1e-10));
  test('20 bar in 1.998 L are 318 N m', () =>
    expectRelative(brakeMeanEffectivePressureKpa(317.9915763, 1.998, 4), 2000, 1e-9));
  test('a two-stroke does it with half the pressure', () =>
    expectRelative(brakeMeanEffectivePressureKpa(400, 2, 2), 2513.2741229 / 2, 1e-10));
});

describe('fuel, power and efficiency, closed form', () => {
  test('320 g/kWh of petrol is an efficiency of 0.259', () =>
    expectRelative(brakeSpecificFuelConsumption(0.258975659, 0), 320, 1e-8));
  test('19.57 g/s of fuel at lambda 0.80 and 0.30 of all its heat are 255 kW', () => {
    // Fuel × 43.440376 kJ/g × 0.30; of the fuel at lambda 0.8 a share of 0.8 finds its air, so 0.30 of all is 0.375 of that.
    const airflowGs = 19.57379838 * 0.8 * stoichiometricAfr(0);
    expectRelative(brakePowerKw({ airflowGs, lambda: 0.8, ethanolPercent: 0, efficiency: 0.3 / 0.8 }), 255.08795, 1e-7);
  });
  test('more fuel than the air burns gives no more power; less gives less', () => {
    const at = (lambda: number) => brakePowerKw({ airflowGs: 100, lambda, ethanolPercent: 0, efficiency: 0.34 });
    expectRelative(at(0.75), at(1), 1e-12);
    expectRelative(at(1.1), at(1) / 1.1, 1e-12);
    expect(() => at(0)).toThrow(RangeError);
  });
});

// Factors as published restatements print the formulas, +273 and 298 exactly; ISO 1585 from memory.
describe('power correction, SAE J1349 (1990) and ISO 1585', () => {
  test.each([
    [99, 25, 1, 1],
    [95, 35, 1.07014625, 1.07175268],
    [90, 15, 1.09603564, 1.09844156],
    [98, 30, 1.02199956, 1.02241394],
  ])('%d kPa dry and %d °C', (kpa, celsius, sae, iso) => {
    expectRelative(powerCorrection('SAE J1349', kpa, celsius, false), sae, 1e-8);
    expectRelative(powerCorrection('ISO 1585', kpa, celsius, false), iso, 1e-8);
  });
  test('none for an engine whose boost is controlled (amendment of UN R85, 2014 and 2015)', () => {
    expect(powerCorrection('SAE J1349', 90, 35, true)).toBe(1);
    expect(powerCorrection('ISO 1585', 90, 35, true)).toBe(1);
  });
});

describe('pressure ratio, definition', () => {
  test.each([
    [150, 101.325, 2.4803849001],
    [150, 84.556, 2.7739722787],
    [250 - 101.325, 101.325, 2.4673081668],
    [250 - 84.556, 84.556, 2.9566204645],
  ])('%d kPa gauge over %d kPa', (boost, barometric, expected) =>
    expectRelative(pressureRatio(boost, barometric), expected, 1e-10),
  );
});
