/** Standards for the air that engine power is stated in. */
export type PowerStandard = 'SAE J1349' | 'ISO 1585';

/**
 * Factor that brings the full-load power or torque of a spark-ignition engine to standard air (99 kPa dry, 25 °C).
 * SAE J1349 (1990): 1.18 × (99/p) × √((t + 273)/298) − 0.18. ISO 1585 (from memory): (99/p)^1.2 × ((t + 273)/298)^0.6.
 * An engine whose boost is controlled to a pressure gets 1: its control has already made up for thin air, and a factor would count
 * that twice (the reason of the 2014 and 2015 amendment of UN R85).
 * @param dryPressureKpa outside air, absolute, water vapour left out
 * @throws RangeError unless the air has a pressure
 * @example powerCorrection('SAE J1349', 95, 35, false) // => 1.07015
 */
export function powerCorrection(
  standard: PowerStandard,
  dryPressureKpa: number,
  temperatureC: number,
  isBoostControlled: boolean,
): number {
  if (!(dryPressureKpa > 0)) throw new RangeError(`no power correction at ${dryPressureKpa} kPa`);
  if (isBoostControlled) return 1;
  const pressure = 99 / dryPressureKpa;
  const temperature = (temperatureC + 273) / 298;
  return standard === 'SAE J1349'
    ? 1.18 * pressure * Math.sqrt(temperature) - 0.18
    : pressure ** 1.2 * temperature ** 0.6;
}
