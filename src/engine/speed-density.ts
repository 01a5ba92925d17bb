import { airDensityKgM3 } from './air-density.ts';
import type { Strokes } from './cycle-time.ts';

/** What an engine breathes from. */
export interface Breathing {
  /** Volumetric efficiency on manifold density, as a ratio (0.95, not 95). */
  readonly ve: number;
  readonly displacementL: number;
  readonly rpm: number;
  /** Manifold pressure. */
  readonly pressureKpaAbs: number;
  /** Charge temperature. */
  readonly temperatureC: number;
  readonly strokes: Strokes;
}

/**
 * Air mass flow by speed-density: VE × displacement × charge density × cycles per second.
 * @returns g/s
 * @example airMassFlowGs({ ve: 1, displacementL: 2, rpm: 3000, pressureKpaAbs: 101.325, temperatureC: 15, strokes: 4 }) // => 61.25
 */
export function airMassFlowGs({ ve, displacementL, rpm, pressureKpaAbs, temperatureC, strokes }: Breathing): number {
  const cyclesPerSecond = rpm / (30 * strokes);
  return ve * displacementL * airDensityKgM3(pressureKpaAbs, temperatureC) * cyclesPerSecond;
}
