import { largest } from '../../signal/extremes.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { quantile } from '../../signal/quantile.ts';
import { chargeTemperatureAt } from '../charge/source.ts';
import type { Drive } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import type { RetardTrack } from './tracks.ts';

/** Slow retard that all cylinders share: what temperature compensation looks like. */
export interface CommonRetard {
  /** Highest inside the pulls, deg. */
  readonly highestDeg: number;
  readonly atS: number;
  /** Correlation with charge temperature inside the pulls; undefined where it is not logged. */
  readonly withTemperature: number | undefined;
  readonly cylinders: number;
}

/** Compensation follows a temperature, so it rises slower than this, deg per s; knock control steps. Common practice, no source. */
const FASTEST_RISE_DEG_PER_S = 1;
const LEAST_DEG = 0.5;
/** Lifts and gear changes at the edges of a pull are left out, s. */
const EDGE_S = 0.4;
const FOLLOWS = { several: 0.8, single: 0.9 } as const;

/** What of the values rises no faster than the given slope; it falls with them at once. */
function slowPart(time: Float64Array, values: Float64Array, risePerS: number): Float64Array {
  const slow = new Float64Array(values.length);
  if (values.length > 0) slow[0] = Math.max(0, values[0]);
  for (let i = 1, n = values.length; i < n; i++) {
    slow[i] = Math.max(0, Math.min(values[i], slow[i - 1] + risePerS * (time[i] - time[i - 1])));
  }
  return slow;
}

function correlation(a: readonly number[], b: readonly number[]): number {
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [ma, mb] = [mean(a), mean(b)];
  let [aa, bb, ab] = [0, 0, 0];
  for (let i = 0, n = a.length; i < n; i++) {
    aa += (a[i] - ma) ** 2;
    bb += (b[i] - mb) ** 2;
    ab += (a[i] - ma) * (b[i] - mb);
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}

const gapOf = (track: RetardTrack) => (track.rateHz > 0 ? Math.max(1, 3 / track.rateHz) : 1);

const onTimeOf = (track: RetardTrack, time: Float64Array) =>
  track.time === time ? track.values : interpolateAt(track.time, track.values, time, gapOf(track));

/** The lowest retard of all tracks at the times of the first: what none of them is without. */
function sharedRetard(tracks: readonly RetardTrack[]): Float64Array {
  const [first, ...others] = tracks;
  const lowest = Float64Array.from(first.values);
  for (const track of others) {
    const aligned = onTimeOf(track, first.time);
    for (let i = 0, n = lowest.length; i < n; i++) if (aligned[i] < lowest[i]) lowest[i] = aligned[i];
  }
  return lowest;
}

/**
 * Takes smooth retard that all cylinders share off the tracks, where it follows charge temperature (or, with several cylinders, where
 * charge temperature is not logged). A single track has to follow the temperature closely. Knock steps up, so its peak stays.
 */
export function withoutCommonRetard(
  drive: Drive,
  tracks: readonly RetardTrack[],
): { readonly tracks: readonly RetardTrack[]; readonly common: CommonRetard | undefined } {
  const first = tracks[0];
  const unchanged = { tracks, common: undefined };
  if (!first || first.basis === 'advance-drop') return unchanged;
  const { time } = first;
  // What the tracks share is no higher than any of them.
  if (tracks.some((track) => track.time === time && largest(track.values) < LEAST_DEG)) return unchanged;
  const shared = sharedRetard(tracks);
  const slow = slowPart(time, shared, FASTEST_RISE_DEG_PER_S);
  const temperature = chargeTemperatureAt(drive, time);
  const retards: number[] = [];
  const temperatures: number[] = [];
  const roughness: number[] = [];
  const edgeS = Math.max(EDGE_S, 1.5 / first.rateHz);
  let highest = -1;
  for (const { startS, endS } of drive.pulls) {
    for (let i = indexAtOrAfter(time, startS + edgeS); time[i] <= endS - edgeS; i++) {
      if (highest < 0 || slow[i] > slow[highest]) highest = i;
      roughness.push(shared[i] - slow[i]);
      if (!temperature || !Number.isFinite(temperature[i])) continue;
      retards.push(slow[i]);
      temperatures.push(temperature[i]);
    }
  }
  const isSeveral = tracks.length > 1;
  if (highest < 0) return unchanged;
  const smooth = quantile(roughness, 0.9) <= Math.max(first.thresholdDeg, 1.1 * first.stepDeg);
  if (slow[highest] < LEAST_DEG || (isSeveral && !smooth)) return unchanged;
  const withTemperature = retards.length >= 4 ? correlation(retards, temperatures) : undefined;
  if (withTemperature === undefined ? !isSeveral : withTemperature < FOLLOWS[isSeveral ? 'several' : 'single']) {
    return unchanged;
  }
  const gapS = gapOf(first);
  return {
    tracks: tracks.map((track) => {
      const off = track.time === time ? slow : interpolateAt(time, slow, track.time, gapS);
      return { ...track, values: track.values.map((value, i) => value - (Number.isFinite(off[i]) ? off[i] : 0)) };
    }),
    common: { highestDeg: slow[highest], atS: time[highest], withTemperature, cylinders: tracks.length },
  };
}
