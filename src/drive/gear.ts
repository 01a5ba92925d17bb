import type { Build } from '../build-sheet/build.ts';
import type { Recording } from '../channels/recording.ts';
import { overallRatio } from '../engine/gear-ratio.ts';
import { median } from '../signal/median.ts';
import { alignedChannel } from './align.ts';

export interface GearReading {
  /** Gear number, where it is logged or the ratios are on the build sheet. */
  readonly gear: number | undefined;
  readonly note: string | undefined;
}

const UNKNOWN: GearReading = { gear: undefined, note: undefined };

/** How far the measured ratio may lie from a gear's and still be that gear, as a share. Half the usual step between gears. */
const NEAREST = 0.12;
/** A ratio that moves by more than this share within a pull is no single gear with a closed clutch. */
const SLIP = 0.1;
const SLOWEST_KMH = 15;

const finite = (values: Float64Array) => values.filter(Number.isFinite);

function fromRatio(build: Build, engineSpeed: Float64Array, speedKmh: Float64Array): GearReading {
  const { gearRatios, finalDrive, tyreCircumferenceM } = build.vehicle;
  const ratios: number[] = [];
  for (let i = 0, n = engineSpeed.length; i < n; i++) {
    if (speedKmh[i] >= SLOWEST_KMH) ratios.push(engineSpeed[i] / speedKmh[i]);
  }
  if (ratios.length < 3) return UNKNOWN;
  const third = Math.max(1, Math.floor(ratios.length / 3));
  const moved = median(ratios.slice(-third)) / median(ratios.slice(0, third)) - 1;
  const note =
    Math.abs(moved) > SLIP
      ? `Engine speed per road speed moved by ${(100 * moved).toFixed(0)} % within the pull: wheelspin, clutch slip or a slow speed channel.`
      : undefined;
  if (gearRatios.length === 0 || finalDrive === undefined || tyreCircumferenceM === undefined) {
    return { gear: undefined, note };
  }
  const overall = overallRatio(median(ratios) * 100, 100, tyreCircumferenceM) / finalDrive;
  let gear: number | undefined;
  let nearest = NEAREST;
  for (const [i, ratio] of gearRatios.entries()) {
    const apart = Math.abs(overall / ratio - 1);
    if (apart < nearest) {
      nearest = apart;
      gear = i + 1;
    }
  }
  return { gear, note };
}

/** The gear of a stretch of base samples (inclusive): as logged, else by the ratio of engine speed to road speed. */
export function readGear(
  recording: Recording,
  build: Build,
  time: Float64Array,
  engineSpeed: Float64Array,
  start: number,
  end: number,
): GearReading {
  const stretch = time.subarray(start, end + 1);
  const logged = finite(alignedChannel(recording, 'gear', stretch) ?? new Float64Array(0));
  const speed = alignedChannel(recording, 'vehicle_speed', stretch);
  const byRatio = speed ? fromRatio(build, engineSpeed.subarray(start, end + 1), speed) : UNKNOWN;
  if (logged.length > 0 && median(logged) > 0) return { gear: Math.round(median(logged)), note: byRatio.note };
  return byRatio;
}
