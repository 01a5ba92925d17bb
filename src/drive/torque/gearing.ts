import type { Build } from '../../build-sheet/build.ts';
import { metresPerRadian } from '../../engine/driveline-torque.ts';
import { median } from '../../signal/median.ts';
import { quantile } from '../../signal/quantile.ts';
import { alignedChannel } from '../align.ts';
import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';

/** Way of the car for one radian of the engine in a pull. */
export interface Gearing {
  readonly wayM: number;
  /** One standard uncertainty, as a share. */
  readonly relativeSigma: number;
  readonly from: 'build sheet' | 'road speed over engine speed';
  /** Logged over reckoned way where both are known: above 1 a taller gear or tyre than on the sheet. */
  readonly loggedOverSheet: number | undefined;
}

const SHEET_SIGMA = 0.01;
const LOGGED_SIGMA = 0.015;
const SLOWEST_KMH = 20;
const FEWEST = 4;

/** Way per radian by road speed: the median over the pull, away from its ends where the clutch may still close. */
function loggedWay(drive: Drive, pull: Pull): { wayM: number; sigma: number } | undefined {
  const { time, engineSpeed: rpm } = drive;
  const from = indexAtOrAfter(time, pull.startS + 0.4);
  const to = indexAtOrAfter(time, pull.endS - 0.1);
  const speed = alignedChannel(drive.recording, 'vehicle_speed', time.subarray(from, to));
  if (!speed) return undefined;
  const ways: number[] = [];
  const speeds: number[] = [];
  for (let i = 0, n = speed.length; i < n; i++) {
    if (!(speed[i] >= SLOWEST_KMH) || !(rpm[from + i] > 0)) continue;
    ways.push(speed[i] / 3.6 / ((rpm[from + i] * Math.PI) / 30));
    speeds.push(speed[i]);
  }
  if (ways.length < FEWEST) return undefined;
  const stepKmh = drive.recording.channels.get('vehicle_speed')?.step ?? 0;
  const spread = (quantile(ways, 0.75) - quantile(ways, 0.25)) / 1.35 / median(ways);
  // A slow speed channel lags behind a rising engine speed; its spread over the pull tells.
  return { wayM: median(ways), sigma: Math.hypot(LOGGED_SIGMA, stepKmh / 2 / median(speeds), spread / 2) };
}

/** Gearing by the build sheet where the gear is known, else by road speed; or what is missing. */
export function gearingOf(drive: Drive, build: Build, pull: Pull): Gearing | { readonly missing: readonly string[] } {
  const { gearRatios, finalDrive, tyreCircumferenceM } = build.vehicle;
  const logged = loggedWay(drive, pull);
  const ratio = pull.gear === undefined ? undefined : gearRatios[pull.gear - 1];
  if (ratio !== undefined && finalDrive !== undefined && tyreCircumferenceM !== undefined) {
    const wayM = metresPerRadian(tyreCircumferenceM, ratio * finalDrive);
    return {
      wayM,
      relativeSigma: SHEET_SIGMA,
      from: 'build sheet',
      loggedOverSheet: logged && logged.wayM / wayM,
    };
  }
  if (logged) {
    return {
      wayM: logged.wayM,
      relativeSigma: logged.sigma,
      from: 'road speed over engine speed',
      loggedOverSheet: undefined,
    };
  }
  return { missing: ['vehicle_speed', 'gear and vehicle.gearRatios'] };
}
