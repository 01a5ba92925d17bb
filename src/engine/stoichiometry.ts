/** Stoichiometric air–fuel ratio of petrol by mass. Printed values run from 14.2 to 14.8; this one is the U.S. DOE Alternative Fuels Data Center's. */
const PETROL_STOICH = 14.7;

/** Stoichiometric air–fuel ratio of ethanol by mass, from its composition; tables print 9 or 9.0. */
const ETHANOL_STOICH = 9.004;

/** kg/L near 15 °C; petrol runs from 0.72 to 0.78. */
const PETROL_DENSITY = 0.745;

/** kg/L near 15 °C. Source: U.S. DOE Alternative Fuels Data Center. */
const ETHANOL_DENSITY = 0.794;

function requirePercent(ethanolPercent: number): void {
  if (!(ethanolPercent >= 0 && ethanolPercent <= 100)) {
    throw new RangeError(`ethanol content must be 0 to 100 %, not ${ethanolPercent}`);
  }
}

/**
 * Density of a petrol and ethanol blend; volumes taken as additive.
 * @param ethanolPercent by volume
 * @returns kg/L
 * @throws RangeError outside 0…100 %
 * @example fuelDensityKgL(85) // => 0.78665
 */
export function fuelDensityKgL(ethanolPercent: number): number {
  requirePercent(ethanolPercent);
  const share = ethanolPercent / 100;
  return share * ETHANOL_DENSITY + (1 - share) * PETROL_DENSITY;
}

/**
 * Stoichiometric air–fuel ratio of a petrol and ethanol blend. Blends are sold by volume but ratios mix by mass: E85 is
 * 9.81, not 9.86.
 * @param ethanolPercentByVolume 0…100
 * @param petrolStoich of the petrol part
 * @returns kg air per kg fuel
 * @throws RangeError outside 0…100 %
 * @example stoichiometricAfr(85) // => 9.813
 */
export function stoichiometricAfr(ethanolPercentByVolume: number, petrolStoich = PETROL_STOICH): number {
  const density = fuelDensityKgL(ethanolPercentByVolume);
  const massShare = ((ethanolPercentByVolume / 100) * ETHANOL_DENSITY) / density;
  return massShare * ETHANOL_STOICH + (1 - massShare) * petrolStoich;
}

/**
 * The ethanol content that would explain a constant fuel correction by its stoichiometric ratio alone: the blend B with
 * stoich(A)/stoich(B) = `fuelRatio`, where A is the blend that the calibration assumes.
 * @param assumedEthanolPercent blend A, by volume
 * @param fuelRatio fuel needed over fuel expected: 1.05 for a total trim of +5 %
 * @returns % by volume; undefined where no blend from 0 to 100 % explains it
 * @throws RangeError if the assumed content is outside 0…100 %
 * @example ethanolForStoichRatio(0, 1.0428) // => 10.0
 */
export function ethanolForStoichRatio(assumedEthanolPercent: number, fuelRatio: number): number | undefined {
  const wanted = stoichiometricAfr(assumedEthanolPercent) / fuelRatio;
  const massShare = (PETROL_STOICH - wanted) / (PETROL_STOICH - ETHANOL_STOICH);
  // Rounding may carry a pure fuel past its end.
  if (!(massShare >= -1e-9 && massShare <= 1 + 1e-9)) return undefined;
  const ethanol = massShare / ETHANOL_DENSITY;
  const petrol = (1 - massShare) / PETROL_DENSITY;
  return Math.min(100, Math.max(0, (100 * ethanol) / (ethanol + petrol)));
}
