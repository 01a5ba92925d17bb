import { stoichiometricAfr } from './stoichiometry.ts';

/**
 * Air–fuel equivalence ratio of what was delivered: λ = air / (fuel × stoichiometric ratio). Above 1 is lean.
 * @param airGs any mass flow
 * @param fuelGs same unit, above 0
 * @param ethanolPercent of the fuel, by volume
 * @throws RangeError unless there is fuel
 * @example airFuelEquivalence(147, 12.5, 0) // => 0.8
 */
export function airFuelEquivalence(airGs: number, fuelGs: number, ethanolPercent: number): number {
  if (!(fuelGs > 0)) throw new RangeError(`no mixture without fuel (${fuelGs} g/s)`);
  return airGs / (fuelGs * stoichiometricAfr(ethanolPercent));
}
