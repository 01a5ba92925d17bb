import type { Strokes } from './cycle-time.ts';
import { injectorDutyPercent } from './injector-duty.ts';
import { flowAtPressure } from './orifice-flow.ts';
import { fuelDensityKgL, stoichiometricAfr } from './stoichiometry.ts';

/** What the duty of an injector follows from when no pulse width is logged. */
export interface FuelDemand {
  readonly airflowGs: number;
  /** Air–fuel equivalence ratio, below 1 is rich. */
  readonly lambda: number;
  /** By volume. */
  readonly ethanolPercent: number;
  /** One injector, at `ratedPressureKpa`. */
  readonly injectorFlowCcMin: number;
  readonly ratedPressureKpa: number;
  /** Pressure across the injector now. */
  readonly differentialKpa: number;
  readonly deadTimeMs: number;
  readonly rpm: number;
  /** One injector each. */
  readonly cylinders: number;
  readonly pulsesPerCycle: number;
  readonly strokes: Strokes;
}

/** Relative standard uncertainties (0.03 is 3 %); what is left out counts as exact. */
export interface DemandUncertainty {
  readonly airflow?: number;
  readonly lambda?: number;
  /** Of stoichiometric ratio × density, from a blend that is not well known. */
  readonly fuel?: number;
  readonly injectorFlow?: number;
  readonly differential?: number;
  readonly deadTime?: number;
}

export interface ModelledDuty {
  readonly dutyPercent: number;
  /** One standard uncertainty, in points of duty. */
  readonly uncertaintyPercent: number;
}

/**
 * Injector duty from what the engine breathes: fuel = air/(λ × stoich), shared by the cylinders, over the injector's
 * static flow at its actual pressure, plus the time it is commanded but not yet open. Uncertainty by first-order
 * propagation, the parts taken as independent; pressure counts half, since flow follows its square root.
 * @returns % of the time commanded open, and its uncertainty; infinite where no pressure is left
 * @throws RangeError if lambda, injector flow or cylinders is not above 0
 * @example modelledDuty({ airflowGs: 200, lambda: 0.8, ethanolPercent: 0, injectorFlowCcMin: 550, ratedPressureKpa: 300, differentialKpa: 300, deadTimeMs: 1, rpm: 6000, cylinders: 4, pulsesPerCycle: 1, strokes: 4 }).dutyPercent // => 67.258
 */
export function modelledDuty(demand: FuelDemand, uncertainty: DemandUncertainty = {}): ModelledDuty {
  const { lambda, injectorFlowCcMin, cylinders } = demand;
  if (!(lambda > 0 && injectorFlowCcMin > 0 && cylinders > 0)) {
    throw new RangeError('a modelled duty needs lambda, injector flow and cylinders above 0');
  }
  const fuelGsEach = demand.airflowGs / (lambda * stoichiometricAfr(demand.ethanolPercent)) / cylinders;
  const staticCcMin = flowAtPressure(injectorFlowCcMin, demand.ratedPressureKpa, demand.differentialKpa);
  const staticGs = (staticCcMin / 60) * fuelDensityKgL(demand.ethanolPercent);
  const openPercent = (100 * fuelGsEach) / staticGs;
  const deadPercent = injectorDutyPercent(demand.deadTimeMs, demand.rpm, demand.pulsesPerCycle, demand.strokes);

  const { airflow = 0, fuel = 0, injectorFlow = 0, differential = 0, deadTime = 0 } = uncertainty;
  const openRelative = Math.hypot(airflow, uncertainty.lambda ?? 0, fuel, injectorFlow, differential / 2);
  return {
    dutyPercent: openPercent + deadPercent,
    uncertaintyPercent: Math.hypot(openPercent * openRelative, deadPercent * deadTime),
  };
}
