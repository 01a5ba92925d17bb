import { describe, expect, test } from 'vitest';
import { airDensityKgM3 } from '../../src/engine/air-density.ts';
import { standardPressureKpa } from '../../src/engine/atmosphere.ts';
import { expectRelative } from './relative.ts';

describe('standard atmosphere', () => {
  // U.S. Standard Atmosphere 1976, geopotential height, as restated; printed figures to 0.06 Pa.
  test.each([
    [0, 101325],
    [500, 95460.8],
    [1000, 89874.6],
    [1500, 84556],
    [2000, 79495.2],
  ])('pressure at %d m is printed as %d Pa', (heightM, printedPa) => {
    expect(Math.abs(standardPressureKpa(heightM) * 1000 - printedPa)).toBeLessThan(0.06);
  });

  test.each([
    [500, 95460.8393423],
    [1000, 89874.5705022],
    [1500, 84556.0048414],
    [2000, 79495.2155105],
    [3000, 70108.54467],
  ])('pressure at %d m from its constants', (heightM, pa) => {
    expectRelative(standardPressureKpa(heightM) * 1000, pa, 1e-9);
  });

  test('the height is geopotential: 1000 m by tape is 999.84271 m and 1.7 Pa more', () => {
    expectRelative(standardPressureKpa((6356766 * 1000) / (6356766 + 1000)) * 1000, 89876.2851873, 1e-9);
  });

  // Gas constant of ISO 2533 (from memory); 1.225 kg/m³ is the published sea-level density.
  test.each([
    [101.325, 15, 1.22500002, 1e-8],
    [101.325, 25, 1.18391332, 1e-8],
    [220, 45, 2.408955957, 1e-9],
    [100, 25, 1.168431598, 1e-9],
  ])('air at %d kPa and %d °C', (pressureKpaAbs, temperatureC, density, tolerance) => {
    expectRelative(airDensityKgM3(pressureKpaAbs, temperatureC), density, tolerance);
  });
});
