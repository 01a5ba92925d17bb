/**
 * Total fuel trim of a bank: the product of short and long term corrections, not their sum.
 * Positive: fuel is added because the mixture was lean (SAE J1979).
 * @param shortTermPercent %
 * @param longTermPercent %
 * @returns %
 * @example totalTrimPercent(8, 6) // => 14.48
 */
export function totalTrimPercent(shortTermPercent: number, longTermPercent: number): number {
  return shortTermPercent + longTermPercent + (shortTermPercent * longTermPercent) / 100;
}
