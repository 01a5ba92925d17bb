import { theilSen } from '../../signal/theil-sen.ts';
import { noiseAroundSlope } from '../boost/trace.ts';
import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';

/** Rise of engine speed over a stretch of a pull. */
export interface SpeedRise {
  readonly atS: number;
  readonly rpm: number;
  readonly rpmPerS: number;
  /** One standard uncertainty of the rise from sample noise, rpm per s. */
  readonly sigma: number;
}

/** After the pull begins the clutch or converter may still be closing; at its end the lift begins, s. */
const HEAD_S = 0.4;
const TAIL_S = 0.1;
const HALF_S = 0.4;
const WIDEST_HALF_S = 1;
const STEP_S = 0.1;
const FEWEST = 4;
/** A window is widened until noise leaves less than this share of the rise. */
const NOISE_SHARE = 0.025;

/** Spread of the sampling times, s: Σ(t − mean)² under the root. */
function leverageS(time: Float64Array): number {
  const mean = time.reduce((sum, t) => sum + t, 0) / time.length;
  return Math.sqrt(time.reduce((sum, t) => sum + (t - mean) ** 2, 0));
}

/**
 * Rise of engine speed through a pull by robust (Theil–Sen) slopes over windows of 0.8 s, wider where noise or a low rate asks
 * for it: a derivative from sample to sample is noise.
 */
export function speedRises(drive: Drive, pull: Pull): SpeedRise[] {
  const rateHz = drive.recording.channels.get('engine_speed')?.rateHz ?? Number.NaN;
  const from = indexAtOrAfter(drive.time, pull.startS + HEAD_S);
  const to = indexAtOrAfter(drive.time, pull.endS - TAIL_S);
  if (to - from < FEWEST) return [];
  const time = drive.time.subarray(from, to);
  const rpm = drive.engineSpeed.subarray(from, to);
  const stepRpm = drive.recording.channels.get('engine_speed')?.step ?? 0;
  const noise = noiseAroundSlope(rpm, Math.min(stepRpm, 50));
  const usual = (rpm[rpm.length - 1] - rpm[0]) / (time[time.length - 1] - time[0]);
  const [firstS, lastS] = [time[0], time[time.length - 1]];
  let halfS = HALF_S;
  const rises: SpeedRise[] = [];
  for (; halfS <= WIDEST_HALF_S + 1e-9; halfS += 0.1) {
    const n = Math.min(time.length, 2 * halfS * rateHz);
    if (n >= FEWEST && (1.1 * noise * Math.sqrt(12 / n)) / (2 * halfS) < NOISE_SHARE * usual) break;
  }
  halfS = Math.min(halfS, WIDEST_HALF_S, (lastS - firstS) / 2);
  for (let middle = firstS + halfS; middle <= lastS - halfS + 1e-9; middle += STEP_S) {
    const a = indexAtOrAfter(time, middle - halfS - 1e-9);
    const b = indexAtOrAfter(time, middle + halfS + 1e-9);
    if (b - a < FEWEST) continue;
    const [t, speed] = [time.subarray(a, b), rpm.subarray(a, b)];
    const line = theilSen(t, speed);
    const centre = t.reduce((sum, x) => sum + x, 0) / t.length;
    rises.push({
      atS: centre,
      rpm: line.intercept + line.slope * centre,
      rpmPerS: line.slope,
      sigma: (1.1 * noise) / leverageS(t),
    });
  }
  return rises;
}
