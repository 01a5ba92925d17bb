import type { Strokes } from './cycle-time.ts';

/**
 * Share of the time that an injector is commanded open: pulse width × pulses per cycle over the cycle time. For a
 * four-stroke with one pulse per cycle that is pulse width (ms) × rpm / 1200. At or above 100 the injector never closes,
 * or the data are wrong.
 * @param pulseWidthMs commanded, dead time included
 * @param pulsesPerCycle pulses in one engine cycle: 1 sequential, 2 where it fires every revolution of a four-stroke
 * @returns %
 * @example injectorDutyPercent(12, 6500, 1, 4) // => 65
 */
export function injectorDutyPercent(
  pulseWidthMs: number,
  rpm: number,
  pulsesPerCycle: number,
  strokes: Strokes,
): number {
  return (pulseWidthMs * pulsesPerCycle * rpm) / (strokes * 300);
}
