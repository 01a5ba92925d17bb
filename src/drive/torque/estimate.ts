import type { Build } from '../../build-sheet/build.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { median } from '../../signal/median.ts';
import type { Drive, Pull } from '../drive.ts';
import { accelerationTorque } from './acceleration.ts';
import { airflowTorque } from './airflow.ts';
import { highestPoint, type RoutePull, type TorquePoint, type TorqueRoute } from './route.ts';

/** Torque with its 95 % interval, N m, and where in the pull it is made. */
export interface Torque extends TorquePoint {
  readonly low: number;
  readonly high: number;
  /** One standard uncertainty, as a share. */
  readonly relativeSigma: number;
  readonly by: 'both routes' | 'airflow' | 'acceleration';
}

/** Torque of one pull by each route and by both together. */
export interface PullTorque {
  readonly pull: Pull;
  readonly airflow: RoutePull | undefined;
  readonly acceleration: RoutePull | undefined;
  /** Acceleration over airflow, same moments; nothing where one of them is missing. */
  readonly ratio: number | undefined;
  /** Whether that ratio, and that of the two peaks, is within what the two uncertainties allow (two sigma). */
  readonly agree: boolean | undefined;
  /** The same of the ratio over the pull alone: a reading that is off may lie at one peak only. */
  readonly agreeOverPull: boolean | undefined;
  readonly peak: Torque;
  /** Highest torque in the lower part of the engine speeds. */
  readonly low: Torque | undefined;
}

export interface TorqueEstimate {
  readonly routes: { readonly airflow: TorqueRoute; readonly acceleration: TorqueRoute };
  readonly pulls: readonly PullTorque[];
  /** Below this engine speed torque is hard on rods and bearings, rpm. */
  readonly lowUpToRpm: number;
}

/** Two routes further apart than this many standard uncertainties disagree. */
const AGREE_WITHIN_SIGMAS = 2;
/** Share of the redline up to which torque counts as made at low engine speed. Common practice, no source. */
const LOW_SHARE = 0.5;

function withInterval(point: TorquePoint, relativeSigma: number, by: Torque['by']): Torque {
  const times = Math.exp(1.96 * relativeSigma);
  return { ...point, low: point.nm / times, high: point.nm * times, relativeSigma, by };
}

/** Acceleration over airflow where both have a value, the median over the pull. */
function ratioOf(airflow: RoutePull, acceleration: RoutePull): number | undefined {
  const { time, values } = acceleration.curve;
  const air = interpolateAt(airflow.curve.time, airflow.curve.values, time, 1);
  const ratios = Array.from(values, (nm, i) => nm / air[i]).filter((r) => Number.isFinite(r) && r > 0);
  return ratios.length > 0 ? median(ratios) : undefined;
}

/** Inverse-variance mean of two independent estimates in proportion, at the place of the first. */
function weighted(a: TorquePoint, aSigma: number, b: TorquePoint, bSigma: number): Torque {
  const [wa, wb] = [1 / aSigma ** 2, 1 / bSigma ** 2];
  const nm = Math.exp((wa * Math.log(a.nm) + wb * Math.log(b.nm)) / (wa + wb));
  const surer = aSigma <= bSigma ? a : b;
  return withInterval({ ...surer, nm }, 1 / Math.sqrt(wa + wb), 'both routes');
}

interface Sigmas {
  readonly airflow: number;
  readonly acceleration: number;
}

/** Whether a ratio of the two routes is within what their uncertainties allow. */
const isOne = (ratio: number, sigmas: Sigmas): boolean =>
  Math.abs(Math.log(ratio)) <= AGREE_WITHIN_SIGMAS * Math.hypot(sigmas.airflow, sigmas.acceleration);

/** Both points together where the routes agree over the pull and here, else the higher. */
function joined(
  points: { readonly airflow: TorquePoint | undefined; readonly acceleration: TorquePoint | undefined },
  sigmas: Sigmas,
  agree: boolean | undefined,
): Torque | undefined {
  const { airflow, acceleration } = points;
  if (airflow && acceleration) {
    if (agree !== false && isOne(acceleration.nm / airflow.nm, sigmas))
      return weighted(airflow, sigmas.airflow, acceleration, sigmas.acceleration);
    return airflow.nm > acceleration.nm
      ? withInterval(airflow, sigmas.airflow, 'airflow')
      : withInterval(acceleration, sigmas.acceleration, 'acceleration');
  }
  if (airflow) return withInterval(airflow, sigmas.airflow, 'airflow');
  return acceleration && withInterval(acceleration, sigmas.acceleration, 'acceleration');
}

function pullTorque(
  pull: Pull,
  airflow: RoutePull | undefined,
  acceleration: RoutePull | undefined,
  lowUpToRpm: number,
): PullTorque | undefined {
  const ratio = airflow && acceleration && ratioOf(airflow, acceleration);
  const sigmas = { airflow: airflow?.relativeSigma ?? 1, acceleration: acceleration?.relativeSigma ?? 1 };
  const agreeOverPull = ratio === undefined ? undefined : isOne(ratio, sigmas);
  const peak = joined({ airflow: airflow?.peak, acceleration: acceleration?.peak }, sigmas, agreeOverPull);
  if (!peak) return undefined;
  const below = (route: RoutePull | undefined) =>
    route && highestPoint(route.curve, Number.NEGATIVE_INFINITY, lowUpToRpm);
  const low = joined({ airflow: below(airflow), acceleration: below(acceleration) }, sigmas, agreeOverPull);
  const agree = agreeOverPull && peak.by === 'both routes';
  return { pull, airflow, acceleration, ratio, agree, agreeOverPull, peak, low };
}

function estimate(drive: Drive, build: Build): TorqueEstimate {
  const routes = { airflow: airflowTorque(drive, build), acceleration: accelerationTorque(drive, build) };
  const lowUpToRpm = LOW_SHARE * build.engine.redlineRpm;
  const of = (route: TorqueRoute, pull: Pull) =>
    route.ok ? route.pulls.find((measured) => measured.pull === pull) : undefined;
  const pulls = drive.pulls
    .map((pull) => pullTorque(pull, of(routes.airflow, pull), of(routes.acceleration, pull), lowUpToRpm))
    .filter((torque) => torque !== undefined);
  return { routes, pulls, lowUpToRpm };
}

const perDrive = oncePer((drive: Drive) => oncePer((build: Build) => estimate(drive, build)));

/** Torque of every usable pull by airflow and by acceleration; worked out once for a drive and its build sheet. */
export function torqueEstimate(drive: Drive, build: Build): TorqueEstimate {
  return perDrive(drive)(build);
}

/** The pull with the highest torque. */
export function highestTorque(pulls: readonly PullTorque[]): PullTorque | undefined {
  return pulls.length === 0 ? undefined : pulls.reduce((a, b) => (b.peak.nm > a.peak.nm ? b : a));
}
