import { largest } from '../../signal/extremes.ts';
import { normalQuantile } from '../../signal/normal.ts';
import { sampleNoise } from '../../signal/sample-noise.ts';
import type { Drive, Pull } from '../drive.ts';
import { type Held, heldLevels, highestHeld } from './held.ts';
import { risenAt, type State, statesOf } from './judged.ts';
import type { LambdaLag } from './lag.ts';
import { cleanLambda, type MixtureSamples, mixtureSamples } from './samples.ts';
import type { MixtureTarget } from './target.ts';

/** Boost from which a lean mixture is dangerous whatever was asked for, kPa gauge. */
export const BOOST_KPA = 40;

/** An extreme of mixture that lasted, with its place and interval. */
export interface HeldMixture {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** When that gas was burnt. */
  readonly atS: number;
  readonly rpm: number;
  readonly boostKpa: number;
  readonly lambda: number;
  readonly isLone: boolean;
}

/** A stretch beyond a mark. */
export interface Excursion {
  readonly startS: number;
  readonly endS: number;
  readonly seconds: number;
  readonly peak: number;
  readonly rpm: readonly [number, number];
}

export interface Measured {
  readonly highest: HeldMixture;
  readonly lowest: HeldMixture;
  readonly excursions: readonly Excursion[];
  readonly judgedS: number;
}

/** Seconds of a pull that were not judged, by reason. */
export interface LeftOut {
  readonly entryS: number;
  readonly movingS: number;
  readonly cutS: number;
  readonly lowBoostS: number;
}

export interface MixturePull {
  readonly pull: Pull;
  readonly samples: MixtureSamples;
  /** Measured minus expected; nothing without a target or where too little could be judged. */
  readonly error: Measured | undefined;
  /** Lambda itself above `BOOST_KPA`. */
  readonly boosted: Measured | undefined;
  readonly errorLeftOut: LeftOut;
  readonly boostedLeftOut: LeftOut;
  /** From the start of the pull until the reading first met what was asked, lag taken off, s. */
  readonly enrichedAfterS: number | undefined;
}

const FEWEST = 3;
/** Full load by the build sheet's lambda: this share of the pull's boost. Common practice, no source. */
const FULL_SHARE = 0.7;
const LATER_SHARE = 0.5;

/** One sigma of a held level, from the noise of single readings. */
const levelSigma = (sigma: number, samples: number) => (samples < 3 ? sigma : (1.25 * sigma) / Math.sqrt(samples));

/**
 * What noise alone adds to the highest of many levels that are truly alike: the median of the largest of m normal deviates, m the
 * number of independent levels within reach of the top. Nothing for an excursion that stands by itself.
 */
function chanceOfTheTop(levels: Float64Array, held: Held, sigma: number, sign: 1 | -1): number {
  if (sigma <= 0) return 0;
  const reach = sign * held.value - 3 * sigma;
  let alike = 0;
  for (let i = 0, n = levels.length; i < n; i++) if (sign * levels[i] >= reach) alike++;
  return sigma * normalQuantile(1 - 0.5 / Math.max(1, alike / held.samples));
}

function heldMixture(
  s: MixtureSamples,
  values: Float64Array,
  levels: Float64Array,
  held: Held,
  about: { sigma: number; half: number; sign: 1 | -1 },
): HeldMixture {
  const sigma = levelSigma(about.sigma, held.samples);
  const reach = 1.96 * sigma + about.half;
  const value = held.value - about.sign * chanceOfTheTop(levels, held, sigma, about.sign);
  const i = held.index;
  return {
    value,
    low: value - reach,
    high: value + reach,
    atS: s.burntS[i],
    rpm: s.rpm[i],
    boostKpa: s.boost[i],
    lambda: value + (s.lambda[i] - values[i]),
    isLone: held.isLone,
  };
}

function excursionsOf(s: MixtureSamples, levels: Float64Array, mark: number, periodS: number): Excursion[] {
  const found: Excursion[] = [];
  let from = -1;
  for (let i = 0; i <= levels.length; i++) {
    const isBeyond = i < levels.length && levels[i] >= mark;
    if (isBeyond && from < 0) from = i;
    if (isBeyond || from < 0) continue;
    const to = i - 1;
    let peak = levels[from];
    for (let k = from; k <= to; k++) peak = Math.max(peak, levels[k]);
    const [startS, endS] = [s.burntS[from], s.burntS[to]];
    found.push({ startS, endS, seconds: s.time[to] - s.time[from] + periodS, peak, rpm: [s.rpm[from], s.rpm[to]] });
    from = -1;
  }
  return found;
}

function measure(
  s: MixtureSamples,
  values: Float64Array,
  states: readonly State[],
  about: { rateHz: number; mark: number; half: number },
): Measured | undefined {
  const { rateHz, mark, half } = about;
  const isJudged = (i: number) => states[i] === 'judged';
  const judged = values.filter((_, i) => isJudged(i));
  if (judged.length < FEWEST) return undefined;
  const levels = heldLevels(s.time, values, isJudged, rateHz);
  const top = highestHeld(s.time, values, levels, rateHz, mark);
  const bottom = highestHeld(s.time, values, levels, rateHz, -mark, -1);
  if (!top || !bottom) return undefined;
  const sigma = sampleNoise(judged);
  return {
    highest: heldMixture(s, values, levels, top, { sigma, half, sign: 1 }),
    lowest: heldMixture(s, values, levels, bottom, { sigma, half, sign: -1 }),
    excursions: excursionsOf(s, levels, mark, 1 / rateHz),
    judgedS: judged.length / rateHz,
  };
}

function leftOut(states: readonly State[], rateHz: number): LeftOut {
  const count: Record<State, number> = { judged: 0, entry: 0, moving: 0, cut: 0, 'low-boost': 0 };
  for (const state of states) count[state]++;
  return {
    entryS: count.entry / rateHz,
    movingS: count.moving / rateHz,
    cutS: count.cut / rateHz,
    lowBoostS: count['low-boost'] / rateHz,
  };
}

/** Mixture of one pull against its target and, above 40 kPa of boost, by itself. */
export function mixturePull(
  drive: Drive,
  pull: Pull,
  lag: LambdaLag,
  target: MixtureTarget | undefined,
  marks: { readonly error: number; readonly lean: number },
): MixturePull | undefined {
  const clean = cleanLambda(drive);
  const s = mixtureSamples(drive, pull, lag);
  if (!clean || !s || s.time.length < FEWEST) return undefined;
  const { rateHz } = clean;
  const step = drive.recording.channels.get('lambda')?.step ?? 0;
  const halfStep = step < 0.02 ? step / 2 : 0;
  const topKpa = largest(s.boost.filter(Number.isFinite));
  const asked = target?.expectedAt(s.time);
  const error = asked && s.lambda.map((x, i) => x - asked.expected[i]);
  const leastKpa = Math.min(BOOST_KPA, topKpa - 10);
  const fullKpa = Math.max(leastKpa, FULL_SHARE * topKpa);
  const laterKpa = Math.max(leastKpa, LATER_SHARE * topKpa);
  const fromKpa = target?.from === 'build sheet' && topKpa > 0 ? fullKpa : Number.NEGATIVE_INFINITY;
  const met = (i: number) => (error ? error[i] < marks.error : s.lambda[i] < marks.lean);
  const states =
    error &&
    statesOf(s, lag, pull.startS, {
      fromKpa,
      laterKpa,
      fromS: risenAt(s, pull.startS, fromKpa),
      met,
      unsure: asked.unsure,
    });
  const boostedStates = statesOf(s, lag, pull.startS, {
    fromKpa: BOOST_KPA,
    laterKpa: BOOST_KPA,
    fromS: pull.startS,
    met: (i) => s.lambda[i] < marks.lean || (error !== undefined && error[i] < marks.error),
    unsure: undefined,
  });
  const meets = s.time.findIndex((t, i) => t >= pull.startS + lag.deadS && met(i));
  const half = halfStep + (target?.halfStep ?? 0);
  return {
    pull,
    samples: s,
    error: error && states && measure(s, error, states, { rateHz, mark: marks.error, half }),
    boosted: measure(s, s.lambda, boostedStates, { rateHz, mark: marks.lean, half: halfStep }),
    errorLeftOut: leftOut(states ?? boostedStates, rateHz),
    boostedLeftOut: leftOut(boostedStates, rateHz),
    enrichedAfterS: meets < 0 ? undefined : Math.max(0, s.time[meets] - pull.startS - lag.deadS - lag.tauS),
  };
}
