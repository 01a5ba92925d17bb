import { runningMedian } from '../../signal/local-level.ts';
import { sampleNoise } from '../../signal/sample-noise.ts';
import { theilSen } from '../../signal/theil-sen.ts';
import type { Drive, Pull } from '../drive.ts';
import { cutSeries } from '../pull-series.ts';
import { pullTop } from './pull-top.ts';
import type { Duty } from './series.ts';

/** The highest duty of a pull, freed of noise, %. */
export interface DutyPeak {
  readonly pull: Pull;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly atS: number;
  readonly rpm: number;
  /** True where the top lies after the last sample and was carried to the pull's end by the pulse width before it. */
  readonly carried: boolean;
  readonly updates: number;
}

const SMOOTHED_FROM_HZ = 8;
const SMOOTHING_S = 0.25;
const END_WINDOW_S = 0.6;
const END_SAMPLES = 5;

/** Duty over engine speed is the pulse's share of a turn: nearly flat near the top, hence safe to carry a little way. */
function endOfPull(duty: Duty, pull: Pull, topRpm: number): { value: number; n: number; lastRpm: number } {
  const { time, values, rpm } = cutSeries(duty.series, pull.startS, pull.endS);
  const last = time.length - 1;
  let from = last;
  while (from > 0 && time[last] - time[from - 1] <= END_WINDOW_S) from--;
  const n = last - from + 1;
  if (n < END_SAMPLES) {
    return { value: (values[last] / rpm[last]) * Math.max(topRpm, rpm[last]), n: 1, lastRpm: rpm[last] };
  }
  const perRpm = values.subarray(from).map((value, i) => value / rpm[from + i]);
  const line = theilSen(time.subarray(from), perRpm);
  const atEnd = line.intercept + line.slope * time[last];
  return { value: atEnd * topRpm, n, lastRpm: rpm[last] };
}

/**
 * The robust maximum of duty inside one pull: the largest of a short running median, or the level to which the last samples lead at the
 * pull's end, whichever is higher. The interval holds sample noise, the number's step, what the alignment of pulse width and
 * engine speed leaves open, and how far engine speed may have climbed before the end of the pull was logged.
 */
export function dutyPeak(drive: Drive, duty: Duty, pull: Pull): DutyPeak | undefined {
  const { time, values, rpm } = cutSeries(duty.series, pull.startS, pull.endS);
  const n = time.length;
  if (n === 0) return undefined;
  const { rateHz } = duty.series;
  const isSmoothed = rateHz >= SMOOTHED_FROM_HZ;
  const level = isSmoothed ? runningMedian(time, values, SMOOTHING_S) : values;
  let best = 0;
  for (let i = 1; i < n; i++) if (level[i] > level[best]) best = i;
  const top = pullTop(drive, pull);
  const end = endOfPull(duty, pull, top.rpm);
  const fromEnd = end.value > level[best];
  const value = fromEnd ? end.value : level[best];
  const atS = fromEnd ? pull.endS : time[best];
  const atRpm = fromEnd ? top.rpm : rpm[best];

  const sigma = n >= 6 ? sampleNoise(values) : duty.noisePercent;
  const samples = fromEnd ? end.n : isSmoothed ? Math.max(1, SMOOTHING_S * rateHz) : 1;
  const share = value / atRpm;
  const half = (1.96 * 1.25 * sigma) / Math.sqrt(samples) + share * top.rise * duty.skewS + duty.halfStepPercent;
  const model = duty.modelShare * value;
  return {
    pull,
    value,
    low: value - Math.hypot(half, model) - (fromEnd ? share * (top.rpm - top.low) : 0),
    high: value + Math.hypot(half, model) + share * Math.max(0, top.high - Math.max(top.rpm, atRpm)),
    atS,
    rpm: atRpm,
    carried: fromEnd && top.rpm - end.lastRpm > 0.01 * top.rpm,
    updates: n,
  };
}
