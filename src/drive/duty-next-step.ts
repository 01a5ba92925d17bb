import type { Build } from '../build-sheet/build.ts';
import { injectorDutyPercent } from '../engine/injector-duty.ts';
import { interpolateAt } from '../signal/interpolate.ts';
import { bridgeableGapS } from './align.ts';
import type { Drive } from './drive.ts';
import { deadTimeInput } from './duty-modelled.ts';
import type { DutyPeak } from './duty-peak.ts';

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

/** Duty at the next step's boost, %. */
export interface NextStepDuty {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly manifoldKpaNow: number;
  readonly manifoldKpaNext: number;
}

/** What charge temperature and volumetric efficiency may do on the way to the next step, share. Common practice, no source. */
const STEP_SHARE = 0.05;

/**
 * The peak's open time without dead time grows with absolute manifold pressure; a fixed fuel pressure loses what boost gains. Nothing where
 * the sheet names no next step, the manifold pressure is not logged, or the pull already had that boost.
 */
export function nextStepDuty(drive: Drive, build: Build, peak: DutyPeak): NextStepDuty | undefined {
  const manifoldKpaNow = valueAt(drive, 'manifold_pressure', peak.atS);
  if (build.nextStepBoostKpa === undefined || manifoldKpaNow === undefined) return undefined;
  const barometric = drive.recording.barometric.kpa;
  const manifoldKpaNext = barometric + build.nextStepBoostKpa;
  if (manifoldKpaNext <= 1.01 * manifoldKpaNow) return undefined;
  const { fuelPressureKpa, ratedPressureKpa, regulator, pulsesPerCycle } = build.injectors;
  const set = fuelPressureKpa ?? ratedPressureKpa;
  let pressureShare = 1;
  if (regulator === 'fixed' && set !== undefined) {
    const now = set + barometric - manifoldKpaNow;
    const next = set + barometric - manifoldKpaNext;
    if (now <= 0 || next <= 0) return undefined;
    pressureShare = Math.sqrt(now / next);
  }
  const dead = deadTimeAt(drive, build, peak.atS).ms;
  const deadPercent = Math.min(peak.value, injectorDutyPercent(dead, peak.rpm, pulsesPerCycle, build.engine.strokes));
  const growth = (manifoldKpaNext / manifoldKpaNow) * pressureShare;
  const grown = (duty: number, share: number) => Math.max(0, duty - deadPercent) * growth * share + deadPercent;
  return {
    value: grown(peak.value, 1),
    low: grown(peak.low, 1 - STEP_SHARE),
    high: grown(peak.high, 1 + STEP_SHARE),
    manifoldKpaNow,
    manifoldKpaNext,
  };
}
