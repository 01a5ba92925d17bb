import { fuelDensityKgL } from './stoichiometry.ts';

/** MJ/kg: 18,676 Btu/lb. Source: U.S. DOE Alternative Fuels Data Center; real petrol runs from 42 to 44. */
const PETROL_MJ_KG = 18676 * 0.002326;

/** MJ/kg: 11,585 Btu/lb. Source: U.S. DOE Alternative Fuels Data Center. */
const ETHANOL_MJ_KG = 11585 * 0.002326;

/**
 * Lower heating value of a petrol and ethanol blend. Blends are sold by volume but heat mixes by mass.
 * @param ethanolPercent by volume
 * @returns MJ/kg
 * @throws RangeError outside 0…100 %
 * @example lowerHeatingValueMjKg(0) // => 43.44
 */
export function lowerHeatingValueMjKg(ethanolPercent: number): number {
  const massShare = ((ethanolPercent / 100) * fuelDensityKgL(100)) / fuelDensityKgL(ethanolPercent);
  return massShare * ETHANOL_MJ_KG + (1 - massShare) * PETROL_MJ_KG;
}
