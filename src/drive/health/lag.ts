import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { median } from '../../signal/median.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import type { Span } from './doubt.ts';

/** How long after the fuel was cut the mixture sensor showed it, in one overrun. */
export interface LagEvent extends Span {
  /** From the cut to half of the way to the lean end, s; nothing where the sensor never went lean. */
  readonly delayS: number | undefined;
}

/** Delay of the mixture sensor behind fuel cuts. */
export interface MixtureLag {
  readonly events: readonly LagEvent[];
  /** Median over the events in which the sensor answered, s. */
  readonly delayS: number | undefined;
  /** What the rates of the two channels leave open, s. */
  readonly resolutionS: number;
  readonly cutBy: ChannelId;
}

/** Marks of a fuel cut and of the sensor's answer. Common practice, no source. */
const CUT_BELOW = { injector_pulse_width: 0.3, injector_duty: 1 } as const;
const FED_ABOVE = { injector_pulse_width: 0.8, injector_duty: 2 } as const;
const LEAST_CUT_S = 1.5;
const LONGEST_WAIT_S = 4;
const LEAST_RPM = 1000;
const RICHEST_BEFORE = 0.7;
const LEANEST_BEFORE = 1.12;
const LEAN_END = 1.25;
const COARSEST_S = 1;

interface Cut extends Span {
  /** Half of what lies between the last fed and the first cut reading, s. */
  readonly sureWithinS: number;
}

/** Where injection stops with the engine turning and stays off. */
function cuts(drive: Drive, injection: Channel, below: number, above: number): Cut[] {
  const { time, values } = injection;
  if (injection.min > below) return [];
  const rpm = engineSpeedAt(drive, time);
  const found: Cut[] = [];
  for (let i = 1, n = values.length; i < n; i++) {
    if (!(values[i] <= below && values[i - 1] >= above && rpm[i] > LEAST_RPM)) continue;
    let to = i;
    while (to + 1 < values.length && values[to + 1] <= below && rpm[to + 1] > LEAST_RPM) to++;
    const startS = (time[i - 1] + time[i]) / 2;
    if (time[to] - startS >= LEAST_CUT_S)
      found.push({ startS, endS: time[to], sureWithinS: (time[i] - time[i - 1]) / 2 });
    i = to;
  }
  return found;
}

/** Time at which lambda passes half of the way from where it was to its lean end; nothing where it did not go lean. */
function answered(lambda: Channel, cut: Cut): LagEvent | undefined {
  const { time, values } = lambda;
  const first = indexAtOrAfter(time, cut.startS);
  if (first < 3 || cut.startS - time[first - 1] > COARSEST_S) return undefined;
  const before = median(values.subarray(first - 3, first));
  if (before < RICHEST_BEFORE || before > LEANEST_BEFORE) return undefined;
  const endS = Math.min(cut.endS, cut.startS + LONGEST_WAIT_S);
  const last = indexAtOrAfter(time, endS + 1e-9);
  const answer = values.subarray(first, last);
  if (answer.length < 3) return undefined;
  const leanest = answer.reduce((most, value) => Math.max(most, value), 0);
  const span = { startS: cut.startS, endS };
  if (leanest < LEAN_END) return { ...span, delayS: undefined };
  const half = before + (leanest - before) / 2;
  let i = first;
  while (values[i] < half) i++;
  const share = values[i] > values[i - 1] ? (half - values[i - 1]) / (values[i] - values[i - 1]) : 1;
  const atS = time[i - 1] + Math.min(1, Math.max(0, share)) * (time[i] - time[i - 1]);
  return { ...span, delayS: Math.max(0, atS - cut.startS) };
}

/** Delay of lambda behind the fuel cuts of the log; nothing where injection or lambda is not logged, too slow, or no fuel cut is in it. */
export const mixtureLag = oncePer((drive: Drive): MixtureLag | undefined => {
  const lambda = drive.recording.channels.get('lambda');
  if (!lambda || !(lambda.rateHz > 0)) return undefined;
  for (const id of ['injector_pulse_width', 'injector_duty'] as const) {
    const injection = drive.recording.channels.get(id);
    if (!injection || !(injection.rateHz > 0)) continue;
    const found = cuts(drive, injection, CUT_BELOW[id], FED_ABOVE[id]);
    const sure = found.length > 0 ? median(found.map((cut) => cut.sureWithinS)) : 0;
    const resolutionS = sure + 0.5 / lambda.rateHz;
    if (resolutionS > COARSEST_S) continue;
    const events = found.map((cut) => answered(lambda, cut)).filter((event) => event !== undefined);
    if (events.length === 0) continue;
    const delays = events.flatMap(({ delayS }) => delayS ?? []);
    return { events, delayS: delays.length > 0 ? median(delays) : undefined, resolutionS, cutBy: id };
  }
  return undefined;
});
