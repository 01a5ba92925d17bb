import { DRY_AIR_GAS_CONSTANT, ZERO_CELSIUS_K } from './dry-air.ts';

/**
 * Density of dry air as an ideal gas: ρ = p/(R T).
 * @returns kg/m³
 * @throws RangeError at or below absolute zero
 * @example airDensityKgM3(101.325, 15) // => 1.225
 */
export function airDensityKgM3(pressureKpaAbs: number, temperatureC: number): number {
  const kelvin = temperatureC + ZERO_CELSIUS_K;
  if (!(kelvin > 0)) throw new RangeError(`air cannot be at ${temperatureC} °C`);
  return (pressureKpaAbs * 1000) / (DRY_AIR_GAS_CONSTANT * kelvin);
}
