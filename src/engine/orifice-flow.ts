/**
 * Flow of an injector at another pressure across it: flow grows with the square root of the pressure (Bernoulli).
 * No pressure, or pressure the wrong way, gives no flow.
 * @param ratedFlow any flow unit, at `ratedKpa` across the injector
 * @param actualKpa pressure across the injector now
 * @returns in the unit of `ratedFlow`
 * @throws RangeError unless the rated pressure is above 0
 * @example flowAtPressure(550, 300, 400) // => 635.085
 */
export function flowAtPressure(ratedFlow: number, ratedKpa: number, actualKpa: number): number {
  if (!(ratedKpa > 0)) throw new RangeError(`a flow cannot be rated at ${ratedKpa} kPa`);
  return ratedFlow * Math.sqrt(Math.max(0, actualKpa) / ratedKpa);
}
