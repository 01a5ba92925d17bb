import { runningMedian } from '../../signal/local-level.ts';
import { median } from '../../signal/median.ts';

/** A step in trim while engine speed and load stay put, that lasts and then reverts: what tank purge looks like. */
export interface PurgeStep {
  readonly startS: number;
  readonly endS: number;
  /** Level in the step minus level around it, % of fuel. */
  readonly heightPercent: number;
}

/** Common practice, no source. */
const SMOOTH_S = 3;
const BASELINE_S = 160;
const LEAST_HEIGHT = 4;
const BACK_WITHIN = 2;
const SHORTEST_S = 3;
const EDGE_S = 3;
const SURROUND_S = 3;
const LARGEST_SHARE = 0.45;

/** Whether means over the smoothing window differ enough for a step to be possible at all. */
function mayStep(time: Float64Array, total: Float64Array): boolean {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let sum = 0;
  for (let end = 0, from = 0, size = time.length; end < size; end++) {
    sum += total[end];
    while (time[end] - time[from] >= SMOOTH_S) sum -= total[from++];
    if (time[end] - time[0] < SMOOTH_S) continue;
    const mean = sum / (end - from + 1);
    low = Math.min(low, mean);
    high = Math.max(high, mean);
  }
  return high - low >= LEAST_HEIGHT / 2;
}

/**
 * Purge-like steps inside one stretch at one operating point.
 * @param time seconds, rising @param total total trim, %, finite
 */
export function purgeSteps(time: Float64Array, total: Float64Array): PurgeStep[] {
  const n = time.length;
  if (n < 8 || time[n - 1] - time[0] < 4 * SURROUND_S || !mayStep(time, total)) return [];
  const smooth = runningMedian(time, total, SMOOTH_S);
  const baseline = runningMedian(time, smooth, BASELINE_S);
  const departure = smooth.map((value, i) => value - baseline[i]);
  const steps: PurgeStep[] = [];
  let i = 0;
  while (i < n) {
    if (Math.abs(departure[i]) < LEAST_HEIGHT) {
      i++;
      continue;
    }
    const sign = Math.sign(departure[i]);
    let start = i;
    let end = i;
    while (end + 1 < n && sign * departure[end + 1] >= LEAST_HEIGHT) end++;
    const lasted = time[end] - time[i] >= SHORTEST_S;
    while (start > 0 && sign * departure[start - 1] > BACK_WITHIN) start--;
    let last = end;
    while (last + 1 < n && sign * departure[last + 1] > BACK_WITHIN) last++;
    const sharp = time[i] - time[start] <= EDGE_S && time[last] - time[end] <= EDGE_S;
    const surrounded = time[start] - time[0] >= SURROUND_S && time[n - 1] - time[last] >= SURROUND_S;
    const minority = time[last] - time[start] <= LARGEST_SHARE * (time[n - 1] - time[0]);
    const reverts = Math.abs(smooth[Math.min(last + 1, n - 1)] - smooth[Math.max(start - 1, 0)]) <= 2 * BACK_WITHIN;
    if (lasted && sharp && surrounded && minority && reverts) {
      steps.push({
        startS: time[start],
        endS: time[last],
        heightPercent: median(departure.subarray(i, end + 1)),
      });
    }
    i = last + 1;
  }
  return steps;
}
