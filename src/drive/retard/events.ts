import { largest } from '../../signal/extremes.ts';
import { turningPointLegs } from '../../signal/turning-points.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import type { RetardTrack } from './tracks.ts';

/** One rise of retard and what followed it, on one track. */
export interface RetardRise {
  readonly track: RetardTrack;
  readonly onsetS: number;
  readonly peakS: number;
  /** When it had fallen to half, or the next rise began. */
  readonly endS: number;
  /** Above the resting level, deg. */
  readonly peakDeg: number;
  /** As logged, resting level included, deg. */
  readonly loggedDeg: number;
  /** Engine speed when it had come in by nine tenths: a flat top may have its highest sample anywhere. */
  readonly peakRpm: number;
  /** From a tenth to nine tenths of the rise, s. */
  readonly riseS: number;
  /** Samples at or above half the peak. */
  readonly samples: number;
  /** Fast in and slow out is knock control; a lone sample is a blip; neither is slow. */
  readonly shape: 'fast-in-slow-out' | 'blip' | 'slow-in';
}

/** Above this rate a lone sample is too short for a controller that gives retard back slowly. */
const BLIPS_TOLD_FROM_HZ = 8;
const FAST_IN_S = 0.4;
/** A jump is over within this, s; a stretch this long before it is another matter if it rises at most this share as fast. */
const JUMP_S = 0.15;
const CALM_S = 0.3;
const CALMER_SHARE = 0.25;

/** Where the values first reach a level on the way from `from` to `to`, s, between samples. */
function reachedS({ time, values }: RetardTrack, from: number, to: number, level: number): number {
  for (let i = from + 1; i <= to; i++) {
    if (values[i] < level) continue;
    const share = (level - values[i - 1]) / (values[i] - values[i - 1]);
    return time[i - 1] + Math.min(1, Math.max(0, share)) * (time[i] - time[i - 1]);
  }
  return time[to];
}

interface Span {
  readonly start: number;
  readonly end: number;
}

/** Index of the highest value in [start, end]. */
function highestIn(values: Float64Array, { start, end }: Span): number {
  let highest = start;
  for (let i = start + 1; i <= end; i++) if (values[i] > values[highest]) highest = i;
  return highest;
}

/** Splits a rising leg where a jump follows a calmer stretch: two causes, such as knock and then the gear change. */
function splitAtJumps({ time, values, rateHz, thresholdDeg, stepDeg }: RetardTrack, leg: Span): Span[] {
  const jumpS = Math.max(JUMP_S, 1.2 / rateHz);
  const calmS = Math.max(CALM_S, 1.2 / rateHz);
  const jumpDeg = Math.max(thresholdDeg, 1.6 * stepDeg);
  const spans: Span[] = [];
  let from = leg.start;
  for (let j = leg.start; j < leg.end; j++) {
    let k = j + 1;
    while (k < leg.end && time[k + 1] - time[j] <= jumpS) k++;
    const jump = values[k] - values[j];
    const calm = time[j] - time[from];
    if (jump < jumpDeg || calm < calmS) continue;
    if ((values[j] - values[from]) / calm > (CALMER_SHARE * jump) / (time[k] - time[j])) continue;
    const highest = highestIn(values, { start: from, end: j });
    if (values[highest] - values[from] >= thresholdDeg) spans.push({ start: from, end: highest });
    from = j;
    j = k - 1;
  }
  spans.push({ start: from, end: leg.end });
  return spans;
}

/** Splits a span at the times in `cuts`: what rose inside a pull stands for itself, whatever the lift behind it adds. */
function splitAt({ time }: RetardTrack, span: Span, cuts: readonly number[]): Span[] {
  const spans: Span[] = [];
  let { start } = span;
  for (const cutS of cuts) {
    const last = indexAtOrAfter(time, cutS + 1e-9) - 1;
    if (last <= start || last >= span.end) continue;
    spans.push({ start, end: last });
    start = last;
  }
  spans.push({ start, end: span.end });
  return spans;
}

/** Shape and times of one rise; `until` is where the next one begins. */
function riseOf(track: RetardTrack, { start, end }: Span, until: number): RetardRise {
  const { time, values, rpm, rateHz } = track;
  const [low, high] = [values[start], values[end]];
  let last = end;
  while (last < until && values[last + 1] >= high / 2) last++;
  let first = end;
  while (first > start && values[first - 1] >= high / 2) first--;
  const tenth = reachedS(track, start, end, low + 0.1 * (high - low));
  const cameInS = reachedS(track, start, end, low + 0.9 * (high - low));
  const samples = last - first + 1;
  const isBlip = samples === 1 && rateHz >= BLIPS_TOLD_FROM_HZ;
  const riseS = cameInS - tenth;
  const isFast = riseS <= Math.max(FAST_IN_S, 1.5 / rateHz);
  return {
    track,
    onsetS: tenth,
    peakS: time[end],
    endS: time[last],
    peakDeg: high,
    loggedDeg: high + track.restDeg,
    peakRpm: rpm[Math.min(end, indexAtOrAfter(time, cameInS - 1e-9))],
    riseS,
    samples,
    shape: isBlip ? 'blip' : isFast ? 'fast-in-slow-out' : 'slow-in',
  };
}

/** Rises of retard by at least the track's threshold; a smaller wobble on the way down is no rise of its own. `pullEnds` in s, ascending. */
export function retardRises(track: RetardTrack, pullEnds: readonly number[]): RetardRise[] {
  const { time, values, thresholdDeg } = track;
  const rises: RetardRise[] = [];
  if (time.length < 2 || largest(values) < thresholdDeg) return rises;
  const legs = turningPointLegs(values, 0, time.length - 1, thresholdDeg);
  for (const [k, leg] of legs.entries()) {
    if (!leg.rising || values[leg.end] < thresholdDeg) continue;
    const spans = splitAtJumps(track, leg)
      .flatMap((span) => splitAt(track, span, pullEnds))
      .filter(({ start, end }) => values[end] - values[start] >= 0.5 * thresholdDeg);
    for (const [m, span] of spans.entries()) {
      if (values[span.end] < thresholdDeg) continue;
      rises.push(riseOf(track, span, spans[m + 1]?.start ?? legs[k + 1]?.end ?? time.length - 1));
    }
  }
  return rises;
}
