import type { Build } from '../../build-sheet/build.ts';
import { injectorDutyPercent } from '../../engine/injector-duty.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { bridgeableGapS } from '../align.ts';
import type { Drive } from '../drive.ts';
import { airRatio, manifoldNear, type StepBasis, stepBasis } from '../next-step/basis.ts';
import { type Interval90, Z90 } from '../next-step/type.ts';
import { deadTimeInput } from './modelled.ts';
import type { DutyPeak } from './peak.ts';

/** A channel's value at one time, or nothing where it has no sample near. */
export function valueAt(drive: Drive, id: Parameters<Drive['recording']['channels']['get']>[0], atS: number) {
  const channel = drive.recording.channels.get(id);
  if (!channel) return undefined;
  const value = interpolateAt(channel.time, channel.values, Float64Array.of(atS), bridgeableGapS(channel))[0];
  return Number.isFinite(value) ? value : undefined;
}

export interface DeadTime {
  readonly ms: number;
  readonly note: string;
  /** From the build sheet, and not assumed. */
  readonly known: boolean;
}

/** Dead time at a moment of the log. */
export function deadTimeAt(drive: Drive, build: Build, atS: number): DeadTime {
  const input = deadTimeInput(drive, build, Float64Array.of(atS));
  return { ms: input.at(0), note: input.note, known: build.injectors.deadTime.length > 0 };
}

/** Duty at the next step's boost, %, with its 90 % interval. */
export interface NextStepDuty extends Interval90 {
  readonly manifoldKpaNow: number;
  readonly manifoldKpaNext: number;
}

/** Dead time on no sheet may be off by so much, as a share. Common practice, no source. */
const DEAD_TIME_SIGMA = { known: 0.05, assumed: 0.3 } as const;
/** Set fuel pressure on a sheet against the true one, as a share. Common practice, no source. */
const PRESSURE_SIGMA = 0.03;

/** √(pressure across the injector now / at the next step): a fixed rail loses what boost gains. Nothing where none is left. */
function pressureShare(
  drive: Drive,
  build: Build,
  nowKpa: number,
  nextKpa: number,
): { share: number; sigma: number } | undefined {
  const { fuelPressureKpa, ratedPressureKpa, regulator } = build.injectors;
  const set = fuelPressureKpa ?? ratedPressureKpa;
  if (regulator !== 'fixed' || set === undefined) return { share: 1, sigma: 0 };
  const { kpa } = drive.recording.barometric;
  const [now, next] = [set + kpa - nowKpa, set + kpa - nextKpa];
  if (now <= 0 || next <= 0) return undefined;
  return { share: Math.sqrt(now / next), sigma: 0.5 * PRESSURE_SIGMA * set * (1 / next - 1 / now) };
}

/**
 * The peak's open time without dead time grows with the air mass, manifold pressure over temperature; the whole settled line is moved by the
 * step. Interval: the peak's own, the settled level's, the charge temperature's and the dead time's. Nothing where manifold pressure is not
 * logged or a fixed fuel pressure is used up.
 */
export function dutyAtBoost(
  drive: Drive,
  build: Build,
  peak: DutyPeak,
  basis: StepBasis,
  boostKpa: number,
): NextStepDuty | undefined {
  const manifoldKpaNow = manifoldNear(drive, peak.atS);
  if (manifoldKpaNow === undefined) return undefined;
  const manifoldKpaNext = manifoldKpaNow + boostKpa - basis.settledKpa;
  const pressure = pressureShare(drive, build, manifoldKpaNow, manifoldKpaNext);
  if (!pressure) return undefined;
  const dead = deadTimeAt(drive, build, peak.atS);
  const { pulsesPerCycle } = build.injectors;
  const deadPercent = Math.min(
    peak.value,
    injectorDutyPercent(dead.ms, peak.rpm, pulsesPerCycle, build.engine.strokes),
  );
  const air = airRatio(basis, manifoldKpaNow, boostKpa);
  const growth = air.ratio * pressure.share;
  const openPercent = (peak.value - deadPercent) * growth;
  const deadSigma = deadPercent * (dead.known ? DEAD_TIME_SIGMA.known : DEAD_TIME_SIGMA.assumed) * Math.abs(growth - 1);
  const shared = Z90 * Math.hypot(openPercent * (air.sigma / air.ratio), openPercent * pressure.sigma, deadSigma);
  const own = (half: number) => (half * Z90 * growth) / 1.96;
  const value = openPercent + deadPercent;
  return {
    value,
    low: Math.max(0, value - Math.hypot(shared, own(peak.value - peak.low))),
    high: value + Math.hypot(shared, own(peak.high - peak.value)),
    manifoldKpaNow,
    manifoldKpaNext,
  };
}

/** Where boost settled in no pull, the boost at the peak stands for the level that a step goes up from. */
function basisAt(drive: Drive, atS: number): StepBasis | undefined {
  const manifoldKpa = manifoldNear(drive, atS);
  if (manifoldKpa === undefined) return undefined;
  const barometricKpa = drive.recording.barometric.kpa;
  return {
    pulls: [],
    settledKpa: manifoldKpa - barometricKpa,
    sigmaKpa: 0.03 * manifoldKpa,
    barometricKpa,
    charges: [],
    chargeId: undefined,
    chargeC: 45,
    riseK: 0,
    notes: [],
  };
}

/** Duty at the sheet's next step; nothing where it names none, or the pulls already had that boost. */
export function nextStepDuty(drive: Drive, build: Build, peak: DutyPeak): NextStepDuty | undefined {
  const basis = stepBasis(drive) ?? basisAt(drive, peak.atS);
  if (build.nextStepBoostKpa === undefined || !basis) return undefined;
  if (build.nextStepBoostKpa <= basis.settledKpa + 0.01 * (basis.barometricKpa + basis.settledKpa)) return undefined;
  return dutyAtBoost(drive, build, peak, basis, build.nextStepBoostKpa);
}
