import type { Strokes } from './cycle-time.ts';
import { flowAtPressure } from './orifice-flow.ts';
import { fuelDensityKgL } from './stoichiometry.ts';

/** What the injectors were told, and what pushes the fuel. */
export interface Injection {
  /** Commanded, dead time included. */
  readonly pulseWidthMs: number;
  readonly deadTimeMs: number;
  readonly rpm: number;
  /** One injector, at `ratedKpa` across it. */
  readonly flowCcMin: number;
  readonly ratedKpa: number;
  /** Pressure across the injector now. */
  readonly differentialKpa: number;
  /** One injector each. */
  readonly cylinders: number;
  readonly pulsesPerCycle: number;
  readonly strokes: Strokes;
  /** By volume. */
  readonly ethanolPercent: number;
}

/**
 * Fuel mass flow of all injectors: static flow at the pressure across them × the share of time that they are really open
 * (pulse width less dead time; never more than the whole cycle).
 * @returns g/s
 * @throws RangeError unless the rated pressure is above 0
 * @example injectorFuelFlowGs({ pulseWidthMs: 11, deadTimeMs: 1, rpm: 6000, flowCcMin: 600, ratedKpa: 300, differentialKpa: 300, cylinders: 4, pulsesPerCycle: 1, strokes: 4, ethanolPercent: 0 }) // => 14.9
 */
export function injectorFuelFlowGs(injection: Injection): number {
  const { pulseWidthMs, deadTimeMs, rpm, pulsesPerCycle, strokes } = injection;
  const openMs = Math.max(0, pulseWidthMs - deadTimeMs);
  const openShare = Math.min(1, (openMs * pulsesPerCycle * rpm) / (strokes * 30000));
  const ccMin = flowAtPressure(injection.flowCcMin, injection.ratedKpa, injection.differentialKpa);
  return (injection.cylinders * openShare * ccMin * fuelDensityKgL(injection.ethanolPercent)) / 60;
}
