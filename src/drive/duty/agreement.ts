import { interpolateAt } from '../../signal/interpolate.ts';
import { median } from '../../signal/median.ts';
import { rateOfChange } from '../../signal/rate-of-change.ts';
import type { Drive } from '../drive.ts';
import { cutSeries } from '../pull-series.ts';
import type { Duty } from './series.ts';

/** How two views of one duty differ, inside the pulls. */
export interface DutyAgreement {
  /** Median of second minus first, % duty. */
  readonly difference: number;
  /** Median of second over first. */
  readonly ratio: number;
  /** What the time bases alone can make of it, % duty. */
  readonly allowance: number;
  readonly samples: number;
  readonly reading: 'same' | 'twice' | 'half' | 'fraction' | 'other-unit' | 'differs';
}

const LEAST_DUTY_PERCENT = 5;

/** Compares `second` with `first` at the times of `first`, in pulls; nothing where fewer than three samples meet. */
export function compareDuty(drive: Drive, first: Duty, second: Duty, limitPercent: number): DutyAgreement | undefined {
  const gapS = Math.max(1, 3 / Math.min(first.series.rateHz, second.series.rateHz));
  const differences: number[] = [];
  const ratios: number[] = [];
  const slopes: number[] = [];
  for (const { startS, endS } of drive.pulls) {
    const { time, values } = cutSeries(first.series, startS, endS);
    const other = interpolateAt(second.series.time, second.series.values, time, gapS);
    const slope = rateOfChange(time, values, 0.3);
    for (let i = 0, n = time.length; i < n; i++) {
      if (!Number.isFinite(other[i]) || values[i] <= 0) continue;
      if (Math.max(values[i], other[i]) < LEAST_DUTY_PERCENT) continue;
      differences.push(other[i] - values[i]);
      ratios.push(other[i] / values[i]);
      if (Number.isFinite(slope[i])) slopes.push(Math.abs(slope[i]));
    }
  }
  if (differences.length < 3) return undefined;
  const difference = median(differences);
  const ratio = median(ratios);
  const skewS = first.skewS + 0.5 / second.series.rateHz;
  const allowance = slopes.length > 0 ? median(slopes) * Math.min(1, skewS) : 0;
  const reading =
    Math.abs(difference) < limitPercent + allowance
      ? 'same'
      : near(ratio, 2)
        ? 'twice'
        : near(ratio, 0.5)
          ? 'half'
          : ratio < 0.03
            ? 'fraction'
            : ratio > 30
              ? 'other-unit'
              : 'differs';
  return { difference, ratio, allowance, samples: differences.length, reading };
}

const near = (ratio: number, wanted: number) => Math.abs(ratio / wanted - 1) < 0.12;
