import type { Build } from '../../build-sheet/build.ts';
import { airFuelEquivalence } from '../../engine/air-fuel-equivalence.ts';
import { injectorDifferentialKpa } from '../../engine/injector-differential.ts';
import { injectorFuelFlowGs } from '../../engine/injector-fuel-flow.ts';
import { largest, smallest } from '../../signal/extremes.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { median } from '../../signal/median.ts';
import { theilSen } from '../../signal/theil-sen.ts';
import { airflow } from '../airflow.ts';
import { alignedChannel } from '../align.ts';
import type { Drive } from '../drive.ts';
import { deadTimeInput } from '../duty/modelled.ts';
import { indexesWithin } from '../pull-series.ts';
import type { MixturePull } from './pull.ts';

/** Measured mixture over what airflow and injected fuel come to, in the pulls. */
export interface DeliveredMixture {
  /** Median of measured over computed lambda: above 1, less fuel arrived or more air went in than was reckoned. */
  readonly ratio: number;
  readonly computed: number;
  readonly measured: number;
  /** Change of that ratio from the low to the high end of the engine speeds, %, and its interval. */
  readonly trendPercent: number;
  readonly trendLow: number;
  readonly trendHigh: number;
  readonly rpm: readonly [number, number];
  readonly samples: number;
  /** Whether the air mass rests on a meter or on a volumetric efficiency from the build sheet, not on an assumed one. */
  readonly airKnown: boolean;
  readonly notes: readonly string[];
}

export type Delivered =
  | { readonly ok: true; readonly delivered: DeliveredMixture }
  | { readonly ok: false; readonly missing: readonly string[] };

const FEWEST = 8;
/** Pulse widths are wanted this far around a pull, s: the mixture is read late, and lines are drawn across gaps. */
const AROUND_S = 3;

/** Holds the measured mixture against pulse width × injector flow and airflow, where all are known. */
export function deliveredMixture(drive: Drive, build: Build, pulls: readonly MixturePull[]): Delivered {
  const pulse = drive.recording.channels.get('injector_pulse_width');
  const air = airflow(drive, build);
  const { flowCcMin, ratedPressureKpa, fuelPressureKpa, regulator, pulsesPerCycle } = build.injectors;
  const set = fuelPressureKpa ?? ratedPressureKpa;
  const rated = ratedPressureKpa ?? fuelPressureKpa;
  const rail = drive.recording.channels.get('fuel_rail_pressure');
  const missing = [
    ...(pulse ? [] : ['injector_pulse_width']),
    ...('missing' in air ? air.missing : []),
    ...(flowCcMin === undefined ? ['injectors.flow'] : []),
    ...(set === undefined || rated === undefined ? ['injectors.ratedPressure'] : []),
  ];
  if (!pulse || 'missing' in air || flowCcMin === undefined || set === undefined || rated === undefined) {
    return { ok: false, missing };
  }
  const near = pulls.flatMap(({ pull }) => indexesWithin(pulse.time, pull.startS - AROUND_S, pull.endS + AROUND_S));
  const time = Float64Array.from(near, (i) => pulse.time[i]);
  const at = (values: Float64Array | undefined, i: number, otherwise: number) =>
    values && Number.isFinite(values[i]) ? values[i] : otherwise;
  const gapS = Math.max(1, 3 / air.rateHz);
  const airGs = interpolateAt(air.time, air.values, time, gapS);
  const rpm = interpolateAt(drive.time, drive.engineSpeed, time, gapS);
  const manifold = alignedChannel(drive.recording, 'manifold_pressure', time);
  const railKpa = manifold && rail ? alignedChannel(drive.recording, 'fuel_rail_pressure', time) : undefined;
  const ethanol = alignedChannel(drive.recording, 'ethanol_content', time);
  const dead = deadTimeInput(drive, build, time);
  const barometric = drive.recording.barometric.kpa;
  const computed = near.map((k, i) => {
    const pulseWidthMs = pulse.values[k];
    const manifoldKpa = at(manifold, i, barometric);
    const differentialKpa = railKpa
      ? injectorDifferentialKpa('fixed', at(railKpa, i, set), barometric, manifoldKpa)
      : injectorDifferentialKpa(regulator ?? 'manifold-referenced', set, barometric, manifoldKpa);
    const ethanolPercent = Math.min(100, Math.max(0, at(ethanol, i, build.ethanolPercent ?? 0)));
    const fuelGs = injectorFuelFlowGs({
      pulseWidthMs,
      deadTimeMs: dead.at(i),
      rpm: rpm[i],
      flowCcMin,
      ratedKpa: rated,
      differentialKpa,
      cylinders: build.engine.cylinders,
      pulsesPerCycle,
      strokes: build.engine.strokes,
      ethanolPercent,
    });
    return fuelGs > 0 ? airFuelEquivalence(airGs[i], fuelGs, ethanolPercent) : Number.NaN;
  });
  const known = [...computed.keys()].filter((i) => Number.isFinite(computed[i]));
  const [knownTime, knownValues] = [
    Float64Array.from(known, (i) => time[i]),
    Float64Array.from(known, (i) => computed[i]),
  ];
  const [ratios, speeds, measured, reckoned]: number[][] = [[], [], [], []];
  for (const { samples, pull } of pulls) {
    const there = interpolateAt(knownTime, knownValues, samples.burntS, 1);
    for (let i = 0; i < there.length; i++) {
      const isSettled = samples.burntS[i] > pull.startS + 1 && samples.burntS[i] < pull.endS;
      if (!isSettled || samples.isCut(i) || !(there[i] > 0.3 && there[i] < 3)) continue;
      ratios.push(samples.lambda[i] / there[i]);
      speeds.push(samples.rpm[i]);
      measured.push(samples.lambda[i]);
      reckoned.push(there[i]);
    }
  }
  if (ratios.length < FEWEST) return { ok: false, missing: ['more of a full-load pull'] };
  const low = smallest(speeds);
  const high = largest(speeds);
  const line = high > low ? theilSen(speeds, ratios) : { slope: 0, slopeLow: 0, slopeHigh: 0 };
  const ratio = median(ratios);
  const percent = (slope: number) => (100 * slope * (high - low)) / ratio;
  const pressureNote = railKpa
    ? 'Pressure across the injector: logged rail pressure against manifold pressure.'
    : `Pressure across the injector: set pressure, regulator ${regulator ?? 'taken as manifold-referenced'}.`;
  return {
    ok: true,
    delivered: {
      ratio,
      computed: median(reckoned),
      measured: median(measured),
      trendPercent: percent(line.slope),
      trendLow: percent(line.slopeLow),
      trendHigh: percent(line.slopeHigh),
      rpm: [low, high],
      samples: ratios.length,
      airKnown: air.from === 'mass-air-flow' || build.engine.volumetricEfficiency !== undefined,
      notes: [air.note, pressureNote, dead.note],
    },
  };
}
