const SEA_LEVEL_KPA = 101.325;
const SEA_LEVEL_K = 288.15;
const LAPSE_K_PER_M = 0.0065;
/** g M / (R L) with the constants of the U.S. Standard Atmosphere 1976. */
const EXPONENT = (9.80665 * 0.0289644) / (8.31432 * LAPSE_K_PER_M);

/**
 * Pressure of the standard atmosphere. Weather moves the true one by some 3 %.
 * Source: U.S. Standard Atmosphere 1976, troposphere.
 * @param heightM geopotential height, −5000…11000 m
 * @returns kPa absolute
 * @throws RangeError outside the troposphere
 * @example standardPressureKpa(1500) // => 84.556
 */
export function standardPressureKpa(heightM: number): number {
  if (!(heightM >= -5000 && heightM <= 11000)) throw new RangeError(`no standard pressure at ${heightM} m`);
  return SEA_LEVEL_KPA * (1 - (LAPSE_K_PER_M * heightM) / SEA_LEVEL_K) ** EXPONENT;
}
