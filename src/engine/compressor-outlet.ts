import { ZERO_CELSIUS_K } from './dry-air.ts';

/** (γ − 1)/γ of dry air with γ = 1.4. */
const EXPONENT = 2 / 7;

/**
 * Temperature behind a compressor: T2 = T1 [1 + (PR^((γ−1)/γ) − 1)/η], γ = 1.4.
 * @param inletC before the compressor
 * @param pressureRatio absolute, outlet over inlet, at least 1
 * @param efficiency isentropic, above 0 up to 1
 * @returns °C
 * @throws RangeError outside those ranges
 * @example compressorOutletC(25, 2, 0.7) // => 118.284
 */
export function compressorOutletC(inletC: number, pressureRatio: number, efficiency: number): number {
  if (!(pressureRatio >= 1)) throw new RangeError(`a compressor has no pressure ratio of ${pressureRatio}`);
  if (!(efficiency > 0 && efficiency <= 1)) throw new RangeError(`an isentropic efficiency cannot be ${efficiency}`);
  const inletK = inletC + ZERO_CELSIUS_K;
  return inletK * (1 + (pressureRatio ** EXPONENT - 1) / efficiency) - ZERO_CELSIUS_K;
}
