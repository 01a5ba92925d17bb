import { lowerHeatingValueMjKg } from './heating-value.ts';
import { stoichiometricAfr } from './stoichiometry.ts';

/** W per N m and rpm. */
const RADIANS_PER_S = Math.PI / 30;

/**
 * Torque behind a power: T = P/ω.
 * @returns N m
 * @throws RangeError unless the engine turns
 * @example torqueFromPowerNm(261.799, 5000) // => 499.99926
 */
export function torqueFromPowerNm(powerKw: number, rpm: number): number {
  if (!(rpm > 0)) throw new RangeError(`no torque from a power at ${rpm} rpm`);
  return (1000 * powerKw) / (rpm * RADIANS_PER_S);
}

/**
 * Brake specific fuel consumption of an engine of a brake efficiency: 3600/(efficiency × lower heating value).
 * @param efficiency brake power over the heating value of all fuel
 * @returns g/kWh
 * @throws RangeError unless the efficiency is above 0
 * @example brakeSpecificFuelConsumption(0.258975659, 0) // => 320.0
 */
export function brakeSpecificFuelConsumption(efficiency: number, ethanolPercent: number): number {
  if (!(efficiency > 0)) throw new RangeError(`no fuel consumption at an efficiency of ${efficiency}`);
  return 3600 / (efficiency * lowerHeatingValueMjKg(ethanolPercent));
}

/** What burns, and how much of it reaches the crankshaft. */
export interface Combustion {
  readonly airflowGs: number;
  /** Air–fuel equivalence ratio, below 1 is rich. */
  readonly lambda: number;
  /** By volume. */
  readonly ethanolPercent: number;
  /** Brake power over the heating value of the fuel that finds its air. */
  readonly efficiency: number;
}

/**
 * Brake power from airflow, mixture and efficiency: fuel = air/(λ × stoich); of it burns what finds its air, all when lean and
 * the share λ when rich, since the rest only cools.
 * @returns kW
 * @throws RangeError unless lambda is above 0
 * @example brakePowerKw({ airflowGs: 100, lambda: 0.8, ethanolPercent: 0, efficiency: 0.34 }) // => 100.47
 */
export function brakePowerKw({ airflowGs, lambda, ethanolPercent, efficiency }: Combustion): number {
  if (!(lambda > 0)) throw new RangeError(`no mixture at a lambda of ${lambda}`);
  const fuelGs = airflowGs / (lambda * stoichiometricAfr(ethanolPercent));
  return fuelGs * Math.min(1, lambda) * lowerHeatingValueMjKg(ethanolPercent) * efficiency;
}
