/**
 * Damping ratio of a second-order system from its overshoot: ζ = δ/√(π² + δ²) with δ = −ln(overshoot), the logarithmic
 * decrement of half an oscillation. The same holds for the ratio of any extremum to the one before it.
 * Negative where that ratio is above 1: the oscillation grows.
 * @param overshootFraction peak beyond the final level over the size of the step, above 0
 * @throws RangeError unless the fraction is above 0
 * @example dampingRatioFromOvershoot(0.2) // => 0.45595
 */
export function dampingRatioFromOvershoot(overshootFraction: number): number {
  if (!(overshootFraction > 0)) throw new RangeError(`no damping ratio for an overshoot of ${overshootFraction}`);
  const decrement = -Math.log(overshootFraction);
  return decrement / Math.hypot(Math.PI, decrement);
}
