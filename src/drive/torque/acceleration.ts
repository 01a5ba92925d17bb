import type { Build } from '../../build-sheet/build.ts';
import { airDensityKgM3 } from '../../engine/air-density.ts';
import { engineTorqueNm } from '../../engine/driveline-torque.ts';
import { aerodynamicForceN, gradeForceN, rollingForceN, tractiveForceN } from '../../engine/road-load.ts';
import { rotatingMassShare } from '../../engine/rotating-mass.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { runningMedian } from '../../signal/local-level.ts';
import { quantile } from '../../signal/quantile.ts';
import type { Drive, Pull } from '../drive.ts';
import { type SpeedRise, speedRises } from './acceleration-windows.ts';
import { type Gearing, gearingOf } from './gearing.ts';
import { highestPoint, type RoutePull, type TorqueRoute } from './route.ts';

/** What no sheet says, with one standard uncertainty each. Common practice, no source. */
const DRIVELINE = { efficiency: 0.9, sigma: 0.03 } as const;
const ROLLING = { coefficient: 0.012, sigmaShare: 0.25 } as const;
const DRAG_AREA = { usualM2: 0.68, sigmaShare: 0.05, assumedSigmaShare: 0.2 } as const;
const MASS_SIGMA = 0.03;
const ROTATING_SIGMA_SHARE = 0.33;
/** Slope of a road that looks flat. */
const UNSEEN_SLOPE = 0.007;
const USUAL_AIR_C = 20;
const SMOOTHING_S = 0.3;

const square = (x: number) => x * x;

/** Outside air: the cool end of the intake temperature, else a usual day. */
function outsideAirKgM3(drive: Drive): number {
  const intake = drive.recording.channels.get('intake_air_temperature');
  const celsius = intake ? quantile(intake.values, 0.05) : USUAL_AIR_C;
  return airDensityKgM3(drive.recording.barometric.kpa, Math.min(50, Math.max(-30, celsius)));
}

/** Torque and its standard uncertainty (as a share) at one rise of engine speed. */
function torqueAt(build: Build, massKg: number, airKgM3: number, { wayM, relativeSigma }: Gearing, rise: SpeedRise) {
  const radians = Math.PI / 30;
  const dragAreaM2 = build.vehicle.dragAreaM2 ?? DRAG_AREA.usualM2;
  const rotatingShare = rotatingMassShare(massKg, build.engine.displacementL, wayM);
  const accelerationMs2 = rise.rpmPerS * radians * wayM;
  const speedMs = rise.rpm * radians * wayM;
  const rollingCoefficient = ROLLING.coefficient;
  const forceN = tractiveForceN({
    massKg,
    rotatingShare,
    accelerationMs2,
    speedMs,
    rollingCoefficient,
    dragAreaM2,
    airKgM3,
  });
  const inertiaN = massKg * accelerationMs2;
  const dragShare = build.vehicle.dragAreaM2 === undefined ? DRAG_AREA.assumedSigmaShare : DRAG_AREA.sigmaShare;
  const variance =
    square(MASS_SIGMA * (inertiaN + rollingForceN(massKg, rollingCoefficient))) +
    square(ROTATING_SIGMA_SHARE * rotatingShare * inertiaN) +
    square(gradeForceN(massKg, UNSEEN_SLOPE)) +
    square(ROLLING.sigmaShare * rollingForceN(massKg, rollingCoefficient)) +
    square(dragShare * aerodynamicForceN(airKgM3, dragAreaM2, speedMs)) +
    square(rise.sigma * radians * wayM * massKg * (1 + rotatingShare));
  return {
    nm: engineTorqueNm(forceN, wayM, DRIVELINE.efficiency),
    share: Math.hypot(Math.sqrt(variance) / forceN, DRIVELINE.sigma / DRIVELINE.efficiency, 2 * relativeSigma),
  };
}

function pullTorque(drive: Drive, build: Build, massKg: number, pull: Pull, gearing: Gearing): RoutePull | undefined {
  const rises = speedRises(drive, pull).filter((rise) => rise.rpmPerS > 0);
  if (rises.length === 0) return undefined;
  const airKgM3 = outsideAirKgM3(drive);
  const torques = rises.map((rise) => torqueAt(build, massKg, airKgM3, gearing, rise));
  const column = (of: (i: number) => number) => Float64Array.from(rises, (_, i) => of(i));
  const time = column((i) => rises[i].atS);
  const values = runningMedian(
    time,
    column((i) => torques[i].nm),
    SMOOTHING_S,
  );
  const curve = { time, rpm: column((i) => rises[i].rpm), values };
  const peak = highestPoint(curve);
  if (!peak) return undefined;
  return { pull, curve, peak, relativeSigma: torques[time.indexOf(peak.atS)].share };
}

/** Torque = (mass × acceleration + rolling + drag) × way per radian / driveline efficiency, in every usable pull with a known gearing. */
export function accelerationTorque(drive: Drive, build: Build): TorqueRoute {
  const id = 'acceleration';
  const { massKg, dragAreaM2 } = build.vehicle;
  if (massKg === undefined) {
    return { ok: false, id, missing: ['vehicle.mass'], why: 'The build sheet gives no mass.' };
  }
  const usable = drive.pulls.filter((pull) => pull.usable);
  const pulls: RoutePull[] = [];
  const gearings = new Map<string, number[]>();
  const missing = new Set<string>();
  for (const pull of usable) {
    const gearing = gearingOf(drive, build, pull);
    if ('missing' in gearing) {
      for (const what of gearing.missing) missing.add(what);
      continue;
    }
    const measured = pullTorque(drive, build, massKg, pull, gearing);
    if (!measured) continue;
    pulls.push(measured);
    const way = `${formatQuantity(gearing.wayM, 'm')} for each radian of the engine, by ${gearing.from}.`;
    const apart = gearing.loggedOverSheet === undefined ? 0 : gearing.loggedOverSheet - 1;
    const against = `Road speed says ${(100 * Math.abs(apart)).toFixed(0)} % ${apart > 0 ? 'more' : 'less'}: wheelspin, clutch slip, another tyre or another ratio.`;
    const note = Math.abs(apart) > 0.05 ? `${way} ${against}` : way;
    gearings.set(note, [...(gearings.get(note) ?? []), pull.id]);
  }
  if (pulls.length === 0) {
    return missing.size > 0
      ? { ok: false, id, missing: [...missing], why: 'The gear of the pulls is not known.' }
      : { ok: false, id, missing: ['a full-load pull'], why: 'No usable pull holds enough samples of engine speed.' };
  }
  const drag = dragAreaM2 ?? DRAG_AREA.usualM2;
  return {
    ok: true,
    id,
    pulls,
    notes: [
      ...[...gearings].map(([note, ids]) => `${ids.length === 1 ? 'Pull' : 'Pulls'} ${ids.join(', ')}: ${note}`),
      `Mass ${formatQuantity(massKg, 'kg')} and an allowance for turning parts, drag area ${formatQuantity(drag, 'm2')}${dragAreaM2 === undefined ? ' (assumed)' : ''}, rolling coefficient ${ROLLING.coefficient}, driveline efficiency ${DRIVELINE.efficiency}, road taken as flat (allowances: common practice, no source; ${(100 * UNSEEN_SLOPE).toFixed(1)} % of slope is in the interval).`,
    ],
  };
}
