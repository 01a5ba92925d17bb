import type { Build } from '../../build-sheet/build.ts';
import { injectorDifferentialKpa } from '../../engine/injector-differential.ts';
import { injectorFuelFlowGs } from '../../engine/injector-fuel-flow.ts';
import { stoichiometricAfr } from '../../engine/stoichiometry.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { airflow } from '../airflow.ts';
import { alignedChannel } from '../align.ts';
import type { Drive, Series } from '../drive.ts';
import { injectorDutyOf } from '../duty/choice.ts';
import { deadTimeInput } from '../duty/modelled.ts';

/** Air through the engine with what it is known by. */
export interface ChargeAir extends Series {
  /** One standard uncertainty, as a share. Common practice, no source. */
  readonly relativeSigma: number;
  /** The channel that a pull cannot do without. */
  readonly by: 'mass_air_flow' | 'manifold_pressure' | 'injector_pulse_width';
  readonly notes: readonly string[];
}

const SIGMA = { meter: 0.05, speedDensity: 0.05, assumedVe: 0.08, injected: 0.05, lambdaUnmeasured: 0.04 } as const;
const USUAL_LAMBDA = 0.82;

/** Mixture at the given times: measured, else asked for, else usual. */
export function lambdaAt(drive: Drive, build: Build, time: Float64Array) {
  const fallback = build.fullLoadLambda ?? USUAL_LAMBDA;
  const measured = alignedChannel(drive.recording, 'lambda', time);
  const values = measured ?? alignedChannel(drive.recording, 'lambda_target', time);
  const note = measured
    ? 'Mixture is the measured lambda.'
    : values
      ? 'Mixture is the lambda target: none was measured.'
      : `Mixture is lambda ${fallback} (${build.fullLoadLambda === undefined ? 'assumed' : 'build sheet'}).`;
  const at = (i: number) => (values && values[i] > 0.6 && values[i] < 1.2 ? values[i] : fallback);
  return { at, note, isMeasured: measured !== undefined };
}

/** Ethanol at the given times, % by volume: sensor, else build sheet, else none. */
export function ethanolAt(drive: Drive, build: Build, time: Float64Array): (i: number) => number {
  const logged = alignedChannel(drive.recording, 'ethanol_content', time);
  const fallback = build.ethanolPercent ?? 0;
  return (i) => (logged && logged[i] >= 0 && logged[i] <= 100 ? logged[i] : fallback);
}

/** Air that the injected fuel burns with at the mixture in the log: fuel × lambda × stoichiometric ratio. */
function airFromFuel(drive: Drive, build: Build): ChargeAir | { readonly missing: readonly string[] } {
  const answer = injectorDutyOf(drive, build);
  const { flowCcMin, ratedPressureKpa, fuelPressureKpa, regulator, pulsesPerCycle } = build.injectors;
  const ratedKpa = ratedPressureKpa ?? fuelPressureKpa;
  const setKpa = fuelPressureKpa ?? ratedPressureKpa;
  const isLogged = answer.kind === 'chosen' && answer.choice.duty.source !== 'modelled';
  if (!isLogged || flowCcMin === undefined || ratedKpa === undefined || setKpa === undefined) {
    return {
      missing: [
        ...(isLogged ? [] : ['injector_pulse_width']),
        ...(flowCcMin === undefined ? ['injectors.flow'] : []),
        ...(ratedKpa === undefined ? ['injectors.ratedPressure'] : []),
      ],
    };
  }
  const { series } = answer.choice.duty;
  const { time, rpm } = series;
  const manifold = alignedChannel(drive.recording, 'manifold_pressure', time);
  if (regulator === 'fixed' && !manifold) return { missing: ['manifold_pressure'] };
  const barometric = drive.recording.barometric.kpa;
  const dead = deadTimeInput(drive, build, time);
  const lambda = lambdaAt(drive, build, time);
  const ethanol = ethanolAt(drive, build, time);
  const { cylinders, strokes } = build.engine;
  const values = series.values.map((dutyPercent, i) => {
    const ethanolPercent = ethanol(i);
    const manifoldKpa = manifold ? manifold[i] : barometric;
    const fuelGs = injectorFuelFlowGs({
      pulseWidthMs: (dutyPercent * strokes * 300) / (rpm[i] * pulsesPerCycle),
      deadTimeMs: dead.at(i),
      rpm: rpm[i],
      flowCcMin,
      ratedKpa,
      differentialKpa: injectorDifferentialKpa(regulator ?? 'manifold-referenced', setKpa, barometric, manifoldKpa),
      cylinders,
      pulsesPerCycle,
      strokes,
      ethanolPercent,
    });
    return fuelGs * lambda.at(i) * stoichiometricAfr(ethanolPercent);
  });
  return {
    ...series,
    values,
    by: 'injector_pulse_width',
    relativeSigma: Math.hypot(SIGMA.injected, lambda.isMeasured ? 0 : SIGMA.lambdaUnmeasured),
    notes: [
      `Neither an air meter nor a charge temperature is logged and alive, so the air is that which the injected fuel burns with: injectors of ${formatQuantity(flowCcMin, 'cc/min')}, times lambda, times the stoichiometric ratio.`,
      dead.note,
    ],
  };
}

/** Air by meter or speed-density, else by the fuel that was injected. */
export function chargeAir(drive: Drive, build: Build): ChargeAir | { readonly missing: readonly string[] } {
  const air = airflow(drive, build);
  if ('missing' in air) {
    const injected = airFromFuel(drive, build);
    return 'missing' in injected ? { missing: [...air.missing, ...injected.missing] } : injected;
  }
  const relativeSigma =
    air.from === 'mass-air-flow'
      ? SIGMA.meter
      : build.engine.volumetricEfficiency === undefined
        ? SIGMA.assumedVe
        : SIGMA.speedDensity;
  return {
    ...air,
    relativeSigma,
    by: air.from === 'mass-air-flow' ? 'mass_air_flow' : 'manifold_pressure',
    notes: [air.note],
  };
}
