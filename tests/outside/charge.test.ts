import { describe, test } from 'vitest';
import { airFuelEquivalence } from '../../src/engine/air-fuel-equivalence.ts';
import { compressorOutletC } from '../../src/engine/compressor-outlet.ts';
import { injectorDifferentialKpa } from '../../src/engine/injector-differential.ts';
import { injectorFuelFlowGs } from '../../src/engine/injector-fuel-flow.ts';
import { intercoolerEffectiveness } from '../../src/engine/intercooler-effectiveness.ts';
import { expectRelative } from './relative.ts';

describe('compressor outlet temperature, isentropic relation with γ 1.4', () => {
  // E-305 … E-309: the relation as restated with exponent 0.286; digits by arithmetic with 2/7.
  test.each([
    [25, 2.2, 0.72, 129.6280042],
    [25, 2.0, 0.7, 118.2841729],
    [15, 1.8, 0.75, 85.25654453],
    [35, 2.5, 0.68, 170.6146501],
    [20, 2.0, 1, 84.20385273],
    [20, 1, 0.7, 20],
  ])('%d °C, PR %d, η %d', (inlet, ratio, efficiency, expected) => {
    expectRelative(compressorOutletC(inlet, ratio, efficiency), expected, 1e-8);
  });
  test('gives back the efficiency that made it', () => {
    // E-310: 25 to 118 °C at a ratio of 2.2 is an efficiency of 0.810023258.
    expectRelative(compressorOutletC(25, 2.2, 0.810023258), 118, 1e-8);
  });
  test('agrees with the textbook turbocharger within the choice of gas properties', () => {
    // E-314 and E-315: Çengel and Boles, Thermodynamics, 8th ed., ch. 7: 70 °C, 95 to 135 kPa; isentropic outlet 106.241 °C with k 1.4.
    expectRelative(compressorOutletC(70, 135 / 95, 1), 106.241, 1e-5);
    expectRelative(compressorOutletC(70, 135 / 95, 0.68667), 122.778, 1e-5);
  });
});

describe('intercooler, definition of effectiveness on the air side', () => {
  test('140 °C in, 45 out, 25 ambient', () =>
    expectRelative(intercoolerEffectiveness(140, 45, 25), 0.82608695652, 1e-10));
  test('0.70 of 100 K leaves 60 °C', () => expectRelative(intercoolerEffectiveness(130, 60, 30), 0.7, 1e-12));
});

describe('fuel and air, by definition', () => {
  test('E-213: 228.62 g/s of air and 19.5738 g/s of petrol are lambda 0.80 at a stoich of 14.6, 0.7946 at 14.7', () => {
    expectRelative(airFuelEquivalence(228.62196511, 19.57379838, 0), (0.8 * 14.6) / 14.7, 1e-8);
  });
  test('E-215: 550 cc/min at 300 kPa pass 635.085 at 400, wide open', () => {
    const injection = {
      pulseWidthMs: 20,
      deadTimeMs: 0,
      rpm: 6000,
      flowCcMin: 550,
      ratedKpa: 300,
      differentialKpa: 400,
      cylinders: 1,
      pulsesPerCycle: 1,
      strokes: 4,
      ethanolPercent: 0,
    } as const;
    expectRelative(injectorFuelFlowGs(injection), (635.08529611 * 0.745) / 60, 1e-9);
    expectRelative(injectorFuelFlowGs({ ...injection, pulseWidthMs: 30 }), (635.08529611 * 0.745) / 60, 1e-9);
  });
  test('E-217: a rail of 400 kPa gauge leaves 251 kPa at 250 kPa absolute', () =>
    expectRelative(injectorDifferentialKpa('fixed', 400, 101, 250), 251, 1e-12));
});
