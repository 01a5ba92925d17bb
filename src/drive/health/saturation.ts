import { isTooAlike, type Stretch } from './too-alike.ts';

/** A stretch at the end of what a channel can show. */
export interface Saturation {
  /** The value it lies at; the true value is that or beyond. */
  readonly level: number;
  readonly startS: number;
  readonly endS: number;
  readonly updates: number;
  /** By what it is told: the end of a known scale, readings too alike for their noise, engine speed that they should follow, or another pull. */
  readonly by: 'known end' | 'too alike' | 'engine speed' | 'another pull';
}

export interface SaturationOptions {
  /** Which end of the range, by default the top. */
  readonly end?: 'top' | 'bottom';
  /** The channel's outermost value in the whole log at that end; by default that of `values`. */
  readonly outermost?: number;
  /** Smallest step between distinct values, 0 where unknown. */
  readonly step?: number;
  /** Ends of known scales. */
  readonly knownEnds?: readonly number[];
  /** Distance from a known end by which rounding and conversion may have moved it. Up to twice that, readings have to be exactly alike. */
  readonly knownWithin?: number;
}

/** A known end counts from this on: three readings, or two that are this far apart, s. */
const KNOWN_UPDATES = 3;
const KNOWN_S = 0.2;
/** Readings at an end nobody knows have to last this long, s, and be this many. */
const ALIKE_S = 0.5;
const ALIKE_UPDATES = 6;

export const saturationAt = (level: number, time: Float64Array, at: Stretch, by: Saturation['by']): Saturation => ({
  level,
  startS: time[at.from],
  endS: time[at.to],
  updates: at.to - at.from + 1,
  by,
});

/** Longest unbroken stretch of indexes at the end, `to` inclusive. */
export function longestAt(values: Float64Array, isAtEnd: (value: number) => boolean): Stretch | undefined {
  let longest: Stretch | undefined;
  for (let i = 0, n = values.length; i < n; i++) {
    if (!isAtEnd(values[i])) continue;
    let to = i;
    while (to + 1 < values.length && isAtEnd(values[to + 1])) to++;
    if (!longest || to - i > longest.to - longest.from) longest = { from: i, to };
    i = to;
  }
  return longest;
}

/**
 * Whether a stretch of a channel (a pull's manifold pressure, say) lies at the end of what the channel can show: at a
 * known end of scale for some readings, or at its outermost value of the whole log for half a second, exactly alike, while
 * the noise beside it makes that impossible by chance. A signal without noise, and one whose noise is below its step,
 * cannot be told this way and gives nothing.
 * @param time seconds, strictly increasing
 * @param values same length, finite
 * @throws RangeError if lengths differ
 */
export function saturatedLevel(
  time: Float64Array,
  values: Float64Array,
  options: SaturationOptions = {},
): Saturation | undefined {
  if (time.length !== values.length) throw new RangeError(`${time.length} times but ${values.length} values`);
  if (values.length < 2) return undefined;
  const sign = options.end === 'bottom' ? -1 : 1;
  let edge = Number.NEGATIVE_INFINITY;
  for (const value of values) edge = Math.max(edge, sign * value);
  const outermost = options.outermost ?? sign * edge;
  if (sign * outermost > edge + 1e-9 * Math.abs(edge)) return undefined;
  const within = options.knownWithin ?? 0;
  const known = options.knownEnds?.find((end) => Math.abs(end - outermost) <= 2 * within);
  if (known !== undefined) {
    const apart = Math.abs(known - outermost) <= within ? within : 0;
    const at = longestAt(values, (value) => Math.abs(value - outermost) <= apart);
    const updates = at ? at.to - at.from + 1 : 0;
    if (at && (updates >= KNOWN_UPDATES || (updates >= 2 && time[at.to] - time[at.from] >= KNOWN_S))) {
      return saturationAt(outermost, time, at, 'known end');
    }
  }
  const at = longestAt(values, (value) => value === outermost);
  if (!at || at.to - at.from + 1 < ALIKE_UPDATES || time[at.to] - time[at.from] < ALIKE_S) return undefined;
  return isTooAlike(time, values, at, options.step ?? 0) ? saturationAt(outermost, time, at, 'too alike') : undefined;
}
