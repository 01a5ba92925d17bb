import { turningPointLegs } from '../signal/turning-points.ts';

/** A quick fall of engine speed, base indexes inclusive. */
export interface QuickFall {
  readonly start: number;
  readonly end: number;
}

const LEAST_FALL_RPM = 350;
const LEAST_SHARE = 0.1;
const QUICKEST_RPM_PER_S = 500;
const LONGEST_S = 1.6;
/** The load must come back this soon after the fall for it to be a gear change and not a lift, s. */
const BACK_WITHIN_S = 1.5;

/**
 * Gear changes: engine speed falls quickly, then load returns.
 * @param loaded per base sample: whether the engine is under load again (any opening clearly above closed)
 */
export function findGearChanges(
  time: Float64Array,
  engineSpeed: Float64Array,
  loaded: (index: number) => boolean,
): QuickFall[] {
  const changes: QuickFall[] = [];
  if (time.length < 3) return changes;
  for (const leg of turningPointLegs(engineSpeed, 0, time.length - 1, LEAST_FALL_RPM / 2)) {
    if (leg.rising) continue;
    const fall = engineSpeed[leg.start] - engineSpeed[leg.end];
    const seconds = time[leg.end] - time[leg.start];
    if (fall < Math.max(LEAST_FALL_RPM, LEAST_SHARE * engineSpeed[leg.start])) continue;
    if (seconds > LONGEST_S || fall / seconds < QUICKEST_RPM_PER_S) continue;
    let returned = false;
    for (let i = leg.end; i < time.length && time[i] - time[leg.end] < BACK_WITHIN_S; i++) {
      if (loaded(i) && engineSpeed[i] >= 0.9 * engineSpeed[leg.end]) {
        returned = true;
        break;
      }
    }
    if (returned) changes.push({ start: leg.start, end: leg.end });
  }
  return changes;
}
