/**
 * Effectiveness of a charge cooler, air side: what it takes out of the charge over what is there to be taken,
 * ε = (in − out)/(in − ambient).
 * @param inC charge before the cooler, °C
 * @param outC charge behind it, °C
 * @param ambientC air that cools it, °C
 * @returns 1 for charge at ambient temperature, 0 for none cooled
 * @throws RangeError unless the charge comes in hotter than the ambient air
 * @example intercoolerEffectiveness(140, 45, 25) // => 0.826
 */
export function intercoolerEffectiveness(inC: number, outC: number, ambientC: number): number {
  if (!(inC > ambientC)) throw new RangeError(`a charge of ${inC} °C leaves nothing to cool at ${ambientC} °C`);
  return (inC - outC) / (inC - ambientC);
}
