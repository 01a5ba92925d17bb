import { median } from '../../signal/median.ts';
import { alignedChannel } from '../align.ts';
import type { Drive } from '../drive.ts';
import { outsideAirAt } from '../outside-air.ts';
import { lineHalfKpa } from './line.ts';
import type { BoostPull } from './settled-boost.ts';

/** Settled boost of one pull against what was asked for; kPa gauge, error as a share of the target. */
export interface TargetError {
  readonly settledKpa: number;
  readonly targetKpa: number;
  /** Positive: more boost than asked for, %. */
  readonly percent: number;
  readonly low: number;
  readonly high: number;
}

/** A gauge target below this is no boost to hold an error against, kPa. */
const LEAST_TARGET_KPA = 5;
const FEWEST = 3;

function errorOf(settledKpa: number, targetKpa: number, halfKpa: number): TargetError | undefined {
  if (!(targetKpa >= LEAST_TARGET_KPA)) return undefined;
  const percent = (kpa: number) => (100 * (kpa - targetKpa)) / targetKpa;
  return {
    settledKpa,
    targetKpa,
    percent: percent(settledKpa),
    low: percent(settledKpa - halfKpa),
    high: percent(settledKpa + halfKpa),
  };
}

/** Settled level against one target for the whole pull. */
export function errorToTarget({ settled }: BoostPull, targetKpa: number): TargetError | undefined {
  return settled && errorOf(settled.levelKpa, targetKpa, lineHalfKpa(settled.line, settled.settleRpm));
}

/** Boost against the target logged at the same moments, the median over the settled part of the pull. */
export function errorToLoggedTarget(drive: Drive, { settled, trace }: BoostPull): TargetError | undefined {
  if (!settled) return undefined;
  const logged = alignedChannel(drive.recording, 'manifold_pressure_target', trace.time);
  if (!logged) return undefined;
  const outside = outsideAirAt(drive, trace.time);
  const targets: number[] = [];
  const apart: number[] = [];
  for (let i = trace.first, n = trace.time.length; i < n; i++) {
    if (trace.time[i] < settled.straightFromS || !Number.isFinite(logged[i])) continue;
    const targetKpa = logged[i] - outside[i];
    targets.push(targetKpa);
    apart.push(trace.boost[i] - targetKpa);
  }
  if (targets.length < FEWEST) return undefined;
  const targetKpa = median(targets);
  return errorOf(targetKpa + median(apart), targetKpa, settled.line.levelHalfKpa);
}
