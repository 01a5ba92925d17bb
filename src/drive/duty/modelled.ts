import type { Build } from '../../build-sheet/build.ts';
import { deadTimeMs } from '../../engine/dead-time.ts';
import { injectorDifferentialKpa } from '../../engine/injector-differential.ts';
import { type FuelDemand, modelledDuty } from '../../engine/modelled-duty.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { airflow } from '../airflow.ts';
import { alignedChannel } from '../align.ts';
import type { Drive } from '../drive.ts';
import { impossibleJumps, isInJump } from '../health/jumps.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { type Duty, dutyFrom } from './series.ts';

/** Stand-ins where sheet and log say nothing. Common practice, no source. */
const USUAL_LAMBDA = 0.82;
const USUAL_PRESSURE_KPA = 300;
export const USUAL_DEAD_TIME_MS = 1;
export const USUAL_VOLTAGE = 13.8;

/** Relative standard uncertainties of the inputs. Common practice, no source. */
const RELATIVE = {
  airflow: { 'mass-air-flow': 0.05, 'speed-density': 0.07 },
  lambda: { measured: 0.02, asked: 0.03, assumed: 0.05 },
  fuel: 0.02,
  injectorFlow: 0.03,
  differential: 0.03,
  deadTime: 0.2,
} as const;

interface Input {
  /** Value at a sample, or what stands in for it. */
  readonly at: (i: number) => number;
  readonly note: string;
}

const steady = (value: number, note: string): Input => ({ at: () => value, note });

function orElse(values: Float64Array | undefined, fallback: number, believable: (value: number) => boolean) {
  return (i: number) => (values && believable(values[i]) ? values[i] : fallback);
}

function mixture(drive: Drive, build: Build, time: Float64Array): Input & { sigma: number } {
  const fallback = build.fullLoadLambda ?? USUAL_LAMBDA;
  const believable = (value: number) => value > 0.6 && value < 1.2;
  for (const [id, sigma, note] of [
    ['lambda', RELATIVE.lambda.measured, 'Mixture is the measured lambda.'],
    ['lambda_target', RELATIVE.lambda.asked, 'Mixture is the lambda target: none was measured.'],
  ] as const) {
    const values = alignedChannel(drive.recording, id, time);
    if (values) return { at: orElse(values, fallback, believable), note, sigma };
  }
  return build.fullLoadLambda === undefined
    ? { ...steady(fallback, `Mixture assumed at lambda ${fallback}.`), sigma: RELATIVE.lambda.assumed }
    : {
        ...steady(fallback, `Mixture is the build sheet's full-load lambda ${fallback}.`),
        sigma: RELATIVE.lambda.asked,
      };
}

/** Pressure across the injector: rail against manifold where logged, else the sheet's pressure and regulator. */
function differential(drive: Drive, build: Build, time: Float64Array): Input | { readonly missing: string } {
  const { fuelPressureKpa, ratedPressureKpa, regulator } = build.injectors;
  const rail = alignedChannel(drive.recording, 'fuel_rail_pressure', time);
  const manifold = alignedChannel(drive.recording, 'manifold_pressure', time);
  const barometric = drive.recording.barometric.kpa;
  const set = fuelPressureKpa ?? ratedPressureKpa ?? USUAL_PRESSURE_KPA;
  if (rail && manifold) {
    const at = (i: number) => injectorDifferentialKpa('fixed', rail[i], barometric, manifold[i]);
    return { at, note: 'Pressure across the injector: logged rail pressure against manifold pressure.' };
  }
  if (regulator === 'fixed') {
    if (!manifold) return { missing: 'manifold_pressure' };
    return {
      at: (i) => injectorDifferentialKpa('fixed', set, barometric, manifold[i]),
      note: `Pressure across the injector: a fixed ${formatQuantity(set, 'kPa')} at the rail, less boost.`,
    };
  }
  const assumed = [
    regulator === undefined ? 'regulator assumed manifold-referenced' : undefined,
    fuelPressureKpa === undefined ? 'pressure assumed' : undefined,
  ].filter((text) => text !== undefined);
  const suffix = assumed.length > 0 ? ` (${assumed.join(', ')})` : '';
  return steady(set, `Pressure across the injector: ${formatQuantity(set, 'kPa')}, held by the regulator${suffix}.`);
}

/** Dead time at the logged battery voltage. */
export function deadTimeInput(drive: Drive, build: Build, time: Float64Array): Input {
  const table = build.injectors.deadTime;
  if (table.length === 0) {
    return steady(USUAL_DEAD_TIME_MS, `Dead time assumed at ${formatQuantity(USUAL_DEAD_TIME_MS, 'ms')}.`);
  }
  const volts = alignedChannel(drive.recording, 'battery_voltage', time);
  const at = orElse(volts, USUAL_VOLTAGE, (value) => value > 6 && value < 18);
  const voltNote = volts ? 'at the logged battery voltage' : `at an assumed ${formatQuantity(USUAL_VOLTAGE, 'V')}`;
  return { at: (i) => deadTimeMs(table, at(i)), note: `Dead time from the build sheet ${voltNote}.` };
}

export type DutyModel =
  | { readonly ok: true; readonly duty: Duty; readonly notes: readonly string[] }
  | { readonly ok: false; readonly missing: readonly string[] };

/** Duty inside the pulls as airflow, mixture, injector flow and pressure say it should be. */
export function modelDuty(drive: Drive, build: Build): DutyModel {
  const air = airflow(drive, build);
  const { flowCcMin, ratedPressureKpa, pulsesPerCycle } = build.injectors;
  const missing = [...('missing' in air ? air.missing : []), ...(flowCcMin === undefined ? ['injectors.flow'] : [])];
  if ('missing' in air || flowCcMin === undefined) return { ok: false, missing };
  const pressure = differential(drive, build, air.time);
  if ('missing' in pressure) return { ok: false, missing: [pressure.missing] };
  const lambda = mixture(drive, build, air.time);
  const dead = deadTimeInput(drive, build, air.time);
  const ethanol = alignedChannel(drive.recording, 'ethanol_content', air.time);
  const ethanolAt = orElse(ethanol, build.ethanolPercent ?? 0, (value) => value >= 0 && value <= 100);
  const ratedKpa = ratedPressureKpa ?? USUAL_PRESSURE_KPA;
  const uncertainty = {
    airflow: RELATIVE.airflow[air.from],
    lambda: lambda.sigma,
    fuel: RELATIVE.fuel,
    injectorFlow: RELATIVE.injectorFlow,
    differential: RELATIVE.differential,
    deadTime: RELATIVE.deadTime,
  };
  const meter = air.from === 'mass-air-flow' ? drive.recording.channels.get('mass_air_flow') : undefined;
  const jumps = meter ? impossibleJumps(drive, meter.id) : [];
  const time: number[] = [];
  const values: number[] = [];
  const rpm: number[] = [];
  let modelShare = 0;
  let i = 0;
  for (const { startS, endS } of drive.pulls) {
    // A sample on the border of two pulls is taken once.
    for (i = Math.max(i, indexAtOrAfter(air.time, startS - 1e-9)); air.time[i] <= endS + 1e-9; i++) {
      const differentialKpa = pressure.at(i);
      if (meter && jumps.length > 0 && isInJump(meter, jumps, air.time[i])) continue;
      if (!(air.values[i] > 0) || !(air.rpm[i] > 0) || !(differentialKpa > 0)) continue;
      const demand: FuelDemand = {
        airflowGs: air.values[i],
        lambda: lambda.at(i),
        ethanolPercent: ethanolAt(i),
        injectorFlowCcMin: flowCcMin,
        ratedPressureKpa: ratedKpa,
        differentialKpa,
        deadTimeMs: dead.at(i),
        rpm: air.rpm[i],
        cylinders: build.engine.cylinders,
        pulsesPerCycle,
        strokes: build.engine.strokes,
      };
      const { dutyPercent, uncertaintyPercent } = modelledDuty(demand, uncertainty);
      time.push(air.time[i]);
      values.push(dutyPercent);
      rpm.push(air.rpm[i]);
      modelShare = Math.max(modelShare, (1.96 * uncertaintyPercent) / dutyPercent);
    }
  }
  const duty = dutyFrom(
    drive,
    'modelled',
    { time: new Float64Array(time), values: new Float64Array(values), rpm: new Float64Array(rpm), rateHz: air.rateHz },
    { skewS: 0, halfStepPercent: 0, modelShare },
  );
  if (!duty) return { ok: false, missing: ['a usable full-load pull'] };
  const ethanolNote = ethanol
    ? 'Fuel blend by the ethanol sensor.'
    : `Fuel blend ${formatQuantity(build.ethanolPercent ?? 0, '%')} ethanol${build.ethanolPercent === undefined ? ' (assumed)' : ''}.`;
  const flowNote = `Injector flow ${formatQuantity(flowCcMin, 'cc/min')} at ${formatQuantity(ratedKpa, 'kPa')}${ratedPressureKpa === undefined ? ' (assumed)' : ''}, one injector a cylinder.`;
  return { ok: true, duty, notes: [air.note, lambda.note, flowNote, pressure.note, ethanolNote, dead.note] };
}
