/** Stoichiometric air-fuel ratio that petrol gauges commonly assume (common practice, no source: published values run from 14.5 to 14.7). */
export const PETROL_STOICHIOMETRIC_AFR = 14.7;

/** Lambda = air-fuel ratio / stoichiometric air-fuel ratio; both by mass, above 1 is lean. */
export const lambdaFromAfr = (airFuelRatio: number, stoichiometricAfr: number): number =>
  airFuelRatio / stoichiometricAfr;

/** Lambda = 1 / phi, where phi is the fuel-air equivalence ratio (above 1 is rich). */
export const lambdaFromPhi = (phi: number): number => 1 / phi;
