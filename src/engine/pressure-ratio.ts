/**
 * Pressure ratio over the compressor, losses of filter and cooler left out: (barometric + gauge boost)/barometric. Thin air at
 * altitude asks more of the compressor for the same gauge boost.
 * @returns ratio of absolute pressures
 * @throws RangeError unless there is outside air
 * @example pressureRatio(150, 84.556) // => 2.77397
 */
export function pressureRatio(gaugeBoostKpa: number, barometricKpa: number): number {
  if (!(barometricKpa > 0)) throw new RangeError(`no pressure ratio over ${barometricKpa} kPa`);
  return (barometricKpa + gaugeBoostKpa) / barometricKpa;
}
