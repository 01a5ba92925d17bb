/**
 * Overall ratio between engine and driven wheels (gear × final drive), clutch closed and no wheel spin.
 * @param tyreCircumferenceM rolling circumference
 * @returns engine turns per wheel turn
 * @throws RangeError unless the car moves and the tyre has a size
 * @example overallRatio(3000, 100, 2) // => 3.6
 */
export function overallRatio(rpm: number, speedKmh: number, tyreCircumferenceM: number): number {
  if (!(speedKmh > 0 && tyreCircumferenceM > 0)) {
    throw new RangeError(`no overall ratio at ${speedKmh} km/h on a tyre of ${tyreCircumferenceM} m`);
  }
  const wheelRpm = (speedKmh * 1000) / 60 / tyreCircumferenceM;
  return rpm / wheelRpm;
}
