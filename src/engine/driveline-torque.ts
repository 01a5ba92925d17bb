/**
 * Way that the car goes for one radian of the engine: tyre circumference / (2π × overall ratio). Power at both ends being the
 * same, it also turns a force at the wheels into a torque at the engine.
 * @param tyreCircumferenceM rolling circumference
 * @param overallRatio gear × final drive
 * @returns m/rad
 * @throws RangeError unless both are above 0
 * @example metresPerRadian(2 * Math.PI * 0.31, 5.07) // => 0.061144
 */
export function metresPerRadian(tyreCircumferenceM: number, overallRatio: number): number {
  if (!(tyreCircumferenceM > 0 && overallRatio > 0)) {
    throw new RangeError(`no gearing from a tyre of ${tyreCircumferenceM} m and a ratio of ${overallRatio}`);
  }
  return tyreCircumferenceM / (2 * Math.PI * overallRatio);
}

/**
 * Engine torque behind a force at the driven wheels: F × metres per radian / driveline efficiency.
 * @param efficiency of gearbox, final drive and tyres, above 0 up to 1
 * @returns N m
 * @throws RangeError unless the efficiency is above 0
 * @example engineTorqueNm(5806.6797, 0.31 / 5.07, 0.88) // => 403.46
 */
export function engineTorqueNm(forceN: number, wayM: number, efficiency: number): number {
  if (!(efficiency > 0)) throw new RangeError(`a driveline cannot work at an efficiency of ${efficiency}`);
  return (forceN * wayM) / efficiency;
}
