import { describe, test } from 'vitest';
import { overallRatio } from '../../src/engine/gear-ratio.ts';
import { modelledDuty } from '../../src/engine/modelled-duty.ts';
import { airMassFlowGs } from '../../src/engine/speed-density.ts';
import { stoichiometricAfr } from '../../src/engine/stoichiometry.ts';
import { expectRelative } from './relative.ts';

describe('speed-density, definition of volumetric efficiency on manifold density', () => {
  test.each([
    [0.95, 1.998, 6000, 220, 45, 228.62196511],
    [1, 2.0, 3000, 101.325, 15, 61.250000906],
    [0.85, 2.5, 4000, 180, 60, 133.32404263],
    [0.8989060624, 2.0, 6000, 200, 40, 200],
  ])('VE %d, %d L, %d rpm, %d kPa, %d °C', (ve, displacementL, rpm, pressureKpaAbs, temperatureC, expected) => {
    const breathing = { ve, displacementL, rpm, pressureKpaAbs, temperatureC };
    expectRelative(airMassFlowGs({ ...breathing, strokes: 4 }), expected, 1e-9);
    expectRelative(airMassFlowGs({ ...breathing, strokes: 2 }), 2 * expected, 1e-9);
  });
});

describe('modelled injector duty, closed form', () => {
  test('96 kg/h of petrol keep six injectors of 447.427 cc/min at 80 %', () => {
    // 300 kW × 320 g/kWh; size by the definition of duty, 0.745 kg/L.
    const fuelGs = 96000 / 3600;
    const { dutyPercent } = modelledDuty({
      airflowGs: fuelGs * 0.8 * stoichiometricAfr(0),
      lambda: 0.8,
      ethanolPercent: 0,
      injectorFlowCcMin: 447.42729306,
      ratedPressureKpa: 300,
      differentialKpa: 300,
      deadTimeMs: 0,
      rpm: 6000,
      cylinders: 6,
      pulsesPerCycle: 1,
      strokes: 4,
    });
    expectRelative(dutyPercent, 80, 1e-9);
  });
});

describe('overall ratio, closed form', () => {
  test('1.30 × 3.90 at 30 m/s on a radius of 0.31 m turns the engine at 4685.316 rpm', () => {
    expectRelative(overallRatio(4685.316163, 30 * 3.6, 2 * Math.PI * 0.31), 1.3 * 3.9, 1e-9);
  });
});
