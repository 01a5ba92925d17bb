import { runningMedian } from '../../signal/local-level.ts';
import { runsWhere } from '../../signal/runs.ts';
import type { Pull } from '../drive.ts';
import type { Duty } from './series.ts';

/** The highest duty outside the judged pulls. */
export interface DutyElsewhere {
  readonly value: number;
  readonly atS: number;
  readonly rpm: number;
  /** Longest unbroken time at or above the mark, s, with its start and end. */
  readonly longest: { readonly startS: number; readonly endS: number } | undefined;
}

const PULL_EDGE_S = 0.4;
const SMOOTHING_S = 0.25;

/** Looks outside the judged pulls; `mark` is the duty above which the time is told, %. */
export function dutyElsewhere(duty: Duty, judged: readonly Pull[], mark: number): DutyElsewhere | undefined {
  const { time, values, rpm, rateHz } = duty.series;
  const edgeS = Math.max(PULL_EDGE_S, 1.5 / rateHz);
  const outside = (i: number) => !judged.some((p) => time[i] >= p.startS - edgeS && time[i] <= p.endS + edgeS);
  const highest = (level: Float64Array) => {
    let top = -1;
    for (let i = 0, n = time.length; i < n; i++) if ((top < 0 || level[i] > level[top]) && outside(i)) top = i;
    return top;
  };
  const first = highest(values);
  if (first < 0) return undefined;
  if (values[first] < mark) return { value: values[first], atS: time[first], rpm: rpm[first], longest: undefined };
  const level = rateHz >= 8 ? runningMedian(time, values, SMOOTHING_S) : values;
  const top = highest(level);
  const gapS = Math.max(1, 3 / rateHz);
  let longest: DutyElsewhere['longest'];
  const isHigh = (i: number) => outside(i) && level[i] >= mark;
  for (const { start, end } of runsWhere(time.length, isHigh)) {
    const run = { startS: time[start], endS: time[end - 1] };
    if (end - start < 2 || run.endS - run.startS > gapS * (end - start)) continue;
    if (!longest || run.endS - run.startS > longest.endS - longest.startS) longest = run;
  }
  return { value: level[top], atS: time[top], rpm: rpm[top], longest };
}
