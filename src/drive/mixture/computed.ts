import type { Build } from '../../build-sheet/build.ts';
import { airFuelEquivalence } from '../../engine/air-fuel-equivalence.ts';
import { injectorDifferentialKpa } from '../../engine/injector-differential.ts';
import { injectorFuelFlowGs } from '../../engine/injector-fuel-flow.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { airflow } from '../airflow.ts';
import { alignedChannel } from '../align.ts';
import type { Drive, Pull } from '../drive.ts';
import { deadTimeInput } from '../duty/modelled.ts';
import { indexAtOrAfter } from '../pull-series.ts';

/** Lambda that airflow and injected fuel come to, wherever it is known around some pulls. */
export interface ComputedMixture {
  /** s, ascending */
  readonly time: Float64Array;
  readonly lambda: Float64Array;
  /** Whether the air mass rests on a meter or on a volumetric efficiency from the build sheet, not on an assumed one. */
  readonly airKnown: boolean;
  readonly notes: readonly string[];
}

/** A line is drawn between two values no further apart than this, so that only so much beyond a pull's end counts, s. */
export const BRIDGED_S = 1;

const finiteOr = (value: number | undefined, otherwise: number) =>
  value !== undefined && Number.isFinite(value) ? value : otherwise;

function seriesAt(time: Float64Array, values: Float64Array, at: Float64Array, gapS: number): Float64Array {
  return time === at ? values : interpolateAt(time, values, at, gapS);
}

/** Computes the mixture at each pulse width of the pulls; or says what is missing for it. */
export function computedMixture(
  drive: Drive,
  build: Build,
  pulls: readonly Pull[],
): ComputedMixture | { readonly missing: readonly string[] } {
  const { recording } = drive;
  const pulse = recording.channels.get('injector_pulse_width');
  const air = airflow(drive, build);
  const { flowCcMin, ratedPressureKpa, fuelPressureKpa, regulator, pulsesPerCycle } = build.injectors;
  const setKpa = fuelPressureKpa ?? ratedPressureKpa;
  const ratedKpa = ratedPressureKpa ?? fuelPressureKpa;
  if (!pulse || 'missing' in air || flowCcMin === undefined || setKpa === undefined || ratedKpa === undefined) {
    return {
      missing: [
        ...(pulse ? [] : ['injector_pulse_width']),
        ...('missing' in air ? air.missing : []),
        ...(flowCcMin === undefined ? ['injectors.flow'] : []),
        ...(setKpa === undefined || ratedKpa === undefined ? ['injectors.ratedPressure'] : []),
      ],
    };
  }
  const at = pulse.time;
  const gapS = Math.max(1, 3 / air.rateHz);
  const airGs = seriesAt(air.time, air.values, at, gapS);
  const rpm = seriesAt(drive.time, drive.engineSpeed, at, gapS);
  const manifold = alignedChannel(recording, 'manifold_pressure', at);
  const rail = manifold && alignedChannel(recording, 'fuel_rail_pressure', at);
  const ethanol = alignedChannel(recording, 'ethanol_content', at);
  const dead = deadTimeInput(drive, build, at);
  const kind = rail ? 'fixed' : (regulator ?? 'manifold-referenced');
  const { cylinders, strokes } = build.engine;
  const { kpa: barometricKpa } = recording.barometric;
  const time: number[] = [];
  const lambda: number[] = [];
  let next = 0;
  for (const { startS, endS } of pulls) {
    const end = indexAtOrAfter(at, endS + BRIDGED_S + 2e-9);
    for (let i = Math.max(next, indexAtOrAfter(at, startS - 2e-9)); i < end; i++) {
      const ethanolPercent = Math.min(100, Math.max(0, finiteOr(ethanol?.[i], build.ethanolPercent ?? 0)));
      const railKpa = rail ? finiteOr(rail[i], setKpa) : setKpa;
      const manifoldKpa = finiteOr(manifold?.[i], barometricKpa);
      const fuelGs = injectorFuelFlowGs({
        pulseWidthMs: pulse.values[i],
        deadTimeMs: dead.at(i),
        rpm: rpm[i],
        flowCcMin,
        ratedKpa,
        differentialKpa: injectorDifferentialKpa(kind, railKpa, barometricKpa, manifoldKpa),
        cylinders,
        pulsesPerCycle,
        strokes,
        ethanolPercent,
      });
      const there = fuelGs > 0 ? airFuelEquivalence(airGs[i], fuelGs, ethanolPercent) : Number.NaN;
      if (!Number.isFinite(there)) continue;
      time.push(at[i]);
      lambda.push(there);
    }
    next = end;
  }
  const pressureNote = rail
    ? 'Pressure across the injector: logged rail pressure against manifold pressure.'
    : `Pressure across the injector: set pressure, regulator ${regulator ?? 'taken as manifold-referenced'}.`;
  return {
    time: new Float64Array(time),
    lambda: new Float64Array(lambda),
    airKnown: air.from === 'mass-air-flow' || build.engine.volumetricEfficiency !== undefined,
    notes: [air.note, pressureNote, dead.note],
  };
}
