import { formatQuantity } from '../../kernel/format-number.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { median } from '../../signal/median.ts';
import type { Drive } from '../drive.ts';
import { mixtureLag } from '../health/lag.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { type LagFit, lagFromStep } from './lag-fit.ts';

/** How far the mixture reading is behind the mixture in the cylinders: gas transport, then the sensor's own time constant. */
export interface LambdaLag {
  readonly deadS: number;
  readonly tauS: number;
  /** About 95 % of the lags met lie within this of dead + tau, s. */
  readonly spreadS: number;
  readonly from: 'target steps' | 'fuel cuts' | 'assumed';
  readonly events: number;
  /** One sentence for the report. */
  readonly note: string;
}

/** Where the log shows no step: usual for a sensor in the downpipe. Common practice, no source. */
const ASSUMED = { deadS: 0.1, tauS: 0.12, spreadS: 0.15 };
/** A target that moves by this much within this time is a step. */
const STEP = 0.06;
const STEP_WITHIN_S = 0.6;
const BEFORE_S = 0.7;
const AFTER_S = 2;
/** Lambda of the overrun hides the answer to an enrichment. */
const OVERRUN_LAMBDA = 1.15;
const SLOWEST_HZ = 4;
/** Common practice, no source. */
const LEAST_SPREAD_S = 0.05;
/** Half of the way on a first-order rise is ln 2 time constants; the rest is taken as half transport, half sensor. */
const TAU_OF_HALF_WAY = 0.5 / Math.LN2;

/** Times at which the logged target steps down: an enrichment. */
function enrichments(time: Float64Array, target: Float64Array): number[] {
  const found: number[] = [];
  for (let i = 0, from = 0, n = time.length; i < n; i++) {
    while (time[i] - time[from] > STEP_WITHIN_S) from++;
    if (target[from] - target[i] < STEP) continue;
    if (found.length === 0 || time[from] - found[found.length - 1] > AFTER_S) found.push(time[from]);
  }
  return found;
}

function fitsOf(drive: Drive): LagFit[] {
  const lambda = drive.recording.channels.get('lambda');
  const target = drive.recording.channels.get('lambda_target');
  if (!lambda || !target || !(lambda.rateHz >= SLOWEST_HZ) || !(target.rateHz >= SLOWEST_HZ)) return [];
  if (target.max - target.min < STEP) return [];
  return enrichments(target.time, target.values).flatMap((atS) => {
    const from = indexAtOrAfter(lambda.time, atS - BEFORE_S);
    const to = indexAtOrAfter(lambda.time, atS + AFTER_S);
    const values = lambda.values.subarray(from, to);
    if (values.length < 8 || values.some((value) => value > OVERRUN_LAMBDA)) return [];
    return lagFromStep(target.time, target.values, lambda.time.subarray(from, to), values) ?? [];
  });
}

/** The lag of the mixture reading: from steps of its target, else from fuel cuts, else assumed. */
export const lambdaLag = oncePer((drive: Drive): LambdaLag => {
  const seconds = (value: number) => formatQuantity(value, 's');
  const { channels } = drive.recording;
  const periodS = (id: 'lambda' | 'lambda_target') => {
    const rateHz = channels.get(id)?.rateHz;
    return rateHz && rateHz > 0 ? 1 / rateHz : 0;
  };
  const fits = fitsOf(drive);
  if (fits.length > 0) {
    const total = median(fits.map(({ deadS, tauS }) => deadS + tauS));
    const tauS = Math.min(total, median(fits.map((fit) => fit.tauS)));
    const scatter = Math.max(...fits.map((fit) => Math.abs(fit.deadS + fit.tauS - total)));
    const spreadS = LEAST_SPREAD_S + Math.min(0.3, scatter) + 0.25 * (periodS('lambda') + periodS('lambda_target'));
    return {
      deadS: total - tauS,
      tauS,
      spreadS,
      from: 'target steps',
      events: fits.length,
      note: `Mixture is measured ${seconds(total)} (± ${seconds(spreadS)}) late: found by shifting the target onto the measured mixture in ${fits.length} step${fits.length === 1 ? '' : 's'} of the target, and removed.`,
    };
  }
  const cuts = mixtureLag(drive);
  const delays = cuts?.events.flatMap(({ delayS }) => delayS ?? []) ?? [];
  if (cuts && delays.length > 0 && median(delays) < 1.5) {
    const total = median(delays);
    const scatter = Math.max(...delays.map((delay) => Math.abs(delay - total)));
    const spreadS = LEAST_SPREAD_S + Math.min(0.3, scatter) + Math.min(0.3, 0.5 * cuts.resolutionS);
    return {
      deadS: 0.5 * total,
      tauS: TAU_OF_HALF_WAY * total,
      spreadS,
      from: 'fuel cuts',
      events: delays.length,
      note: `Mixture is measured about ${seconds((0.5 + TAU_OF_HALF_WAY) * total)} (± ${seconds(spreadS)}) late: found in ${delays.length} fuel cut${delays.length === 1 ? '' : 's'} (half way after ${seconds(total)}), and removed. Gas flows faster at full load, so the true lag there is rather shorter.`,
    };
  }
  const slow = 0.5 * periodS('lambda');
  return {
    ...ASSUMED,
    spreadS: ASSUMED.spreadS + Math.min(0.3, slow),
    from: 'assumed',
    events: 0,
    note: `Mixture is taken to be measured ${seconds(ASSUMED.deadS + ASSUMED.tauS)} late (assumed: the log shows neither a step of the target nor a fuel cut that could tell).`,
  };
});
