import { largest, smallest } from '../../signal/extremes.ts';
import { median } from '../../signal/median.ts';
import { robustSpread } from '../../signal/robust-spread.ts';
import { theilSen } from '../../signal/theil-sen.ts';
import type { Pull } from '../drive.ts';
import { cutSeries } from '../pull-series.ts';
import type { Duty } from './series.ts';

/** Duty at an engine speed that no pull reached, %. */
export interface CarriedDuty {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly toRpm: number;
  /** Engine speeds and number of samples that the line rests on. */
  readonly fromRpm: readonly [number, number];
  readonly samples: number;
  /** Change of pulse width along the line, % per 1,000 rpm. */
  readonly slopePercentPer1000Rpm: number;
  readonly pull: Pull;
}

export type Carry =
  | { readonly kind: 'carried'; readonly duty: CarriedDuty }
  | { readonly kind: 'reached'; readonly topRpm: number }
  | { readonly kind: 'too-far'; readonly topRpm: number };

/** A pull that ends this close has reached the redline. */
const REACHED_SHARE = 0.985;
/** A line is not carried further than this share of the pull's own span. */
const FURTHEST_SHARE = 0.6;
const FEWEST_FOR_LINE = 6;
/** Pulse width near the top changes less than this, share per rpm. Common practice, no source. */
const STEEPEST_PER_RPM = 0.15 / 1000;

interface Upper {
  readonly rpm: readonly number[];
  /** Duty per rpm: the pulse's share of the cycle per rpm, flat where the pulse width is. */
  readonly perRpm: readonly number[];
}

function upperPart(duty: Duty, pull: Pull): Upper {
  const fromRpm = pull.rpm[0] + 0.5 * (pull.rpm[1] - pull.rpm[0]);
  const { rpm, values } = cutSeries(duty.series, pull.startS, pull.endS);
  const upper = { rpm: [] as number[], perRpm: [] as number[] };
  for (let i = 0, n = rpm.length; i < n; i++) {
    if (rpm[i] < fromRpm) continue;
    upper.rpm.push(rpm[i]);
    upper.perRpm.push(values[i] / rpm[i]);
  }
  return upper;
}

/** Slope with interval, per rpm; where the samples are too few for a line, flat within the steepest that pulse widths do. */
function slopeOf(parts: readonly Upper[], level: number): { slope: number; low: number; high: number } {
  const rpm: number[] = [];
  const offset: number[] = [];
  for (const part of parts) {
    const [midRpm, mid] = [median(part.rpm), median(part.perRpm)];
    for (let i = 0, n = part.rpm.length; i < n; i++) {
      rpm.push(part.rpm[i] - midRpm);
      offset.push(part.perRpm[i] - mid);
    }
  }
  const steepest = STEEPEST_PER_RPM * level;
  if (rpm.length < FEWEST_FOR_LINE) return { slope: 0, low: -steepest, high: steepest };
  const { slope, slopeLow, slopeHigh } = theilSen(rpm, offset);
  const within = (value: number) => Math.min(steepest, Math.max(-steepest, value));
  return { slope: within(slope), low: within(Math.min(slope, slopeLow)), high: within(Math.max(slope, slopeHigh)) };
}

/**
 * Duty carried to the redline: a robust line of the pulse width over engine speed in the upper half of the pulls, times engine speed. Levels
 * are those of each pull, the slope is common to all; the highest decides.
 */
export function carryToRedline(duty: Duty, pulls: readonly Pull[], redlineRpm: number): Carry | undefined {
  const usable = pulls
    .map((pull) => ({ pull, upper: upperPart(duty, pull) }))
    .filter(({ upper }) => upper.rpm.length > 0);
  if (usable.length === 0) return undefined;
  const topRpm = Math.max(...usable.map(({ pull }) => pull.rpm[1]));
  if (topRpm >= REACHED_SHARE * redlineRpm) return { kind: 'reached', topRpm };
  const near = usable.filter(({ pull }) => redlineRpm - pull.rpm[1] <= FURTHEST_SHARE * (pull.rpm[1] - pull.rpm[0]));
  if (near.length === 0) return { kind: 'too-far', topRpm };
  const level = Math.max(...near.map(({ upper }) => median(upper.perRpm)));
  const { slope, low, high } = slopeOf(
    near.map(({ upper }) => upper),
    level,
  );
  let worst: CarriedDuty | undefined;
  for (const { pull, upper } of near) {
    const [midRpm, mid] = [median(upper.rpm), median(upper.perRpm)];
    const ahead = redlineRpm - midRpm;
    const spread = upper.rpm.length >= 3 ? (1.96 * 1.25 * robustSpread(upper.perRpm)) / Math.sqrt(upper.rpm.length) : 0;
    const value = (mid + slope * ahead) * redlineRpm;
    if (worst && value <= worst.value) continue;
    worst = {
      value,
      low: (mid - spread + low * ahead) * redlineRpm * (1 - duty.modelShare),
      high: (mid + spread + high * ahead) * redlineRpm * (1 + duty.modelShare),
      toRpm: redlineRpm,
      fromRpm: [smallest(upper.rpm), largest(upper.rpm)],
      samples: upper.rpm.length,
      slopePercentPer1000Rpm: (100_000 * slope) / level,
      pull,
    };
  }
  return worst && { kind: 'carried', duty: worst };
}
