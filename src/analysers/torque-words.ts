import type { Build } from '../build-sheet/build.ts';
import type { Drive } from '../drive/drive.ts';
import { valueAt } from '../drive/duty/next-step.ts';
import { manifoldNear } from '../drive/next-step/basis.ts';
import type { PullTorque, Torque, TorqueEstimate } from '../drive/torque/estimate.ts';
import type { TorqueRoute } from '../drive/torque/route.ts';
import { brakeMeanEffectivePressureKpa } from '../engine/mean-effective-pressure.ts';
import { powerCorrection } from '../engine/power-correction.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Cause, DataTable } from './finding.ts';
import { rpmWords, withInterval } from './wording.ts';

export const nm = (value: number) => formatQuantity(value, 'N m');

const ROUTE_NAMES = { airflow: 'Airflow, mixture and efficiency', acceleration: 'Acceleration of the car' } as const;
const BY_NAMES = {
  'both routes': 'both routes together, each weighted by its uncertainty',
  airflow: 'the airflow route',
  acceleration: 'the acceleration route',
} as const;

export const torqueWords = (torque: Torque) => withInterval(torque.nm, torque.low, torque.high, 'N m');

/** What one route says of a pull, or what it lacks. */
function routeSentence(route: TorqueRoute, torque: PullTorque): string {
  const name = ROUTE_NAMES[route.id];
  if (!route.ok) return `${name}: not possible. ${route.why} Missing: ${route.missing.join(', ')}.`;
  const measured = torque[route.id];
  if (!measured)
    return `${name}: pull ${torque.pull.id} gives nothing for it (too few samples, or a channel that froze).`;
  const { peak, relativeSigma } = measured;
  return `${name}: ${nm(peak.nm)} at ${rpmWords(peak.rpm)} in pull ${torque.pull.id}, 95 % within ${(196 * relativeSigma).toFixed(0)} %.`;
}

/** How far the two routes lie apart, and what was judged. */
function agreementSentence({ ratio, agree, agreeOverPull, peak, airflow, acceleration }: PullTorque): string {
  if (ratio === undefined || !airflow || !acceleration) {
    return `Only one route could be used, so nothing confirms it. Judged: ${torqueWords(peak)}.`;
  }
  const apart = `Acceleration reads ${(100 * Math.abs(ratio - 1)).toFixed(0)} % ${ratio >= 1 ? 'more' : 'less'} than airflow (median over the pull)`;
  if (agreeOverPull && !agree) {
    return `${apart}, but their peaks, ${nm(airflow.peak.nm)} by airflow and ${nm(acceleration.peak.nm)} by acceleration, lie further apart than their uncertainties allow: a reading at one of them is wrong. Judged by the higher, ${BY_NAMES[peak.by]}: ${torqueWords(peak)}.`;
  }
  return agree
    ? `${apart}, within what their uncertainties allow. Judged by ${BY_NAMES[peak.by]}: ${torqueWords(peak)}.`
    : `${apart}, more than their uncertainties allow: one of them is wrong. Judged by the higher, ${BY_NAMES[peak.by]}: ${torqueWords(peak)}.`;
}

/** Both routes on the deciding pull, their disagreement and what each stands on. */
export function routeReasons(estimate: TorqueEstimate, deciding: PullTorque): string[] {
  const { airflow, acceleration } = estimate.routes;
  return [
    routeSentence(airflow, deciding),
    routeSentence(acceleration, deciding),
    agreementSentence(deciding),
    ...(airflow.ok ? airflow.notes : []),
    ...(acceleration.ok ? acceleration.notes : []),
  ];
}

/** Mean effective pressure above which an input is wrong rather than the engine strong, kPa. Common practice, no source. */
const DOUBTFUL_PRESSURE_KPA = 3200;
/** Manifold pressure over outside air from which an engine counts as boosted. */
const BOOSTED = 1.1;

function pressureSentence({ peak }: PullTorque, { displacementL, strokes }: Build['engine']): string {
  const pressureKpa = brakeMeanEffectivePressureKpa(peak.nm, displacementL, strokes);
  const doubt =
    pressureKpa > DOUBTFUL_PRESSURE_KPA
      ? `, more than road engines stand (${formatQuantity(DOUBTFUL_PRESSURE_KPA, 'kPa')}, common practice): suspect displacement, mass or gearing`
      : '';
  return `That is a mean effective pressure of ${formatQuantity(pressureKpa, 'kPa')}${doubt}.`;
}

/** Why no correction to standard air is made; for an engine without boost, what it would be. */
function airSentence(drive: Drive, { peak }: PullTorque): string | undefined {
  const { kpa } = drive.recording.barometric;
  const manifoldKpa = manifoldNear(drive, peak.atS);
  const celsius = valueAt(drive, 'intake_air_temperature', peak.atS);
  if (manifoldKpa === undefined) return undefined;
  if (manifoldKpa > BOOSTED * kpa) {
    return 'Torque of the day, not corrected to standard air: boost control makes up for thin air, and SAE J1349 or ISO 1585 factors would count that twice.';
  }
  if (celsius === undefined) return undefined;
  const factor = powerCorrection('SAE J1349', kpa, celsius, false);
  return `Torque of the day, which is what the rods feel. In standard air it would be ${nm(factor * peak.nm)} (SAE J1349 factor ${factor.toFixed(3)}, humidity left out).`;
}

/** Mean effective pressure and the air of the day. */
export function peakAsides(drive: Drive, build: Build, deciding: PullTorque): string[] {
  const air = airSentence(drive, deciding);
  return [pressureSentence(deciding, build.engine), ...(air === undefined ? [] : [air])];
}

/** What may be wrong where the routes disagree. */
export function disagreementCauses({ ratio, agree, agreeOverPull, airflow, acceleration }: PullTorque): Cause[] {
  if (agree !== false || ratio === undefined) return [];
  const atPeak = airflow && acceleration ? acceleration.peak.nm / airflow.peak.nm : ratio;
  const high = (agreeOverPull ? atPeak : ratio) > 1;
  return [
    {
      cause: high
        ? 'The road fell, a wheel spun, or mass or gearing on the sheet is too high'
        : 'The road rose, the car was heavier than on the sheet, or the clutch slipped',
      for: [`acceleration reads ${high ? 'more' : 'less'} than airflow`],
      against: [],
    },
    {
      cause: high
        ? 'Airflow is under-read: volumetric efficiency or displacement on the sheet is too low, or the meter reads low'
        : 'Airflow is over-read, or the engine makes less of it: late timing, a hot charge, poor volumetric efficiency',
      for: [`airflow reads ${high ? 'less' : 'more'} than acceleration`],
      against: [],
    },
  ];
}

/** What would let a route answer that could not. */
export function routeNeeds({ routes }: TorqueEstimate): string[] {
  const missing = [routes.airflow, routes.acceleration].flatMap((route) => (route.ok ? [] : route.missing));
  return [...new Set(missing)];
}

export function torqueTable(estimate: TorqueEstimate, limitNm: number | undefined): DataTable {
  const column = (name: string, unit: string) => ({ name, unit });
  return {
    id: 'torque.pulls',
    title: 'Highest torque by pull',
    columns: [
      column('pull', ''),
      column('airflow', 'N m'),
      column('acceleration', 'N m'),
      column('judged', 'N m'),
      column('low', 'N m'),
      column('high', 'N m'),
      column('engine speed', 'rpm'),
      column('share of limit', '%'),
      column('low-speed torque', 'N m'),
    ],
    rows: estimate.pulls.map(({ pull, airflow, acceleration, peak, low }) => [
      String(pull.id),
      airflow?.peak.nm ?? null,
      acceleration?.peak.nm ?? null,
      peak.nm,
      peak.low,
      peak.high,
      peak.rpm,
      limitNm === undefined ? null : (100 * peak.nm) / limitNm,
      low?.nm ?? null,
    ]),
  };
}
