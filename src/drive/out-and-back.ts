/** What no quantity of this kind can do: leave by so much between two readings, and come back like that soon after. */
export interface Reach {
  /** Least departure, in the unit of the values. */
  readonly step: number;
  /** Least departure as a share of the level it leaves. */
  readonly share?: number;
  /** Either edge lies between readings no further apart than this, s. */
  readonly edgeS: number;
  /** Longest time from the first to the last reading away, s; 0 for lone readings only. */
  readonly longestS: number;
  /** Change that is too quick for the quantity, unit per second: both edges of several readings away have to be quicker. */
  readonly perS?: number;
}

/** Readings away from the level around them, `to` inclusive, and how far the first of them lies off. */
export interface Away {
  readonly from: number;
  readonly to: number;
  readonly size: number;
}

/** Levels before and after that differ by more than this share of the smaller edge are a real movement. */
const COMES_BACK_SHARE = 0.3;

/**
 * Stretches of readings that jump away from the level before them and jump back to it.
 * @param time seconds, strictly increasing
 * @param values same length, finite
 * @returns in order, without overlap; never with the first or the last reading. Cost O(n).
 */
export function outAndBack(time: Float64Array, values: Float64Array, reach: Reach): Away[] {
  const { step, share = 0, edgeS, longestS, perS = 0 } = reach;
  const found: Away[] = [];
  const last = values.length - 1;
  let before = values[0];
  for (let i = 1; i < last; i++) {
    const base = before;
    before = values[i];
    const there = before - base;
    if (there < step && there > -step) continue;
    if (time[i] - time[i - 1] > edgeS) continue;
    const sign = there > 0 ? 1 : -1;
    const size = sign * there;
    const least = Math.max(step, share * Math.abs(base));
    if (size < least) continue;
    const stillAway = Math.max(least, COMES_BACK_SHARE * size);
    let after = i + 1;
    while (after <= last && sign * (values[after] - base) >= stillAway && time[after] - time[i] <= longestS) after++;
    if (after > last || time[after - 1] - time[i] > longestS || time[after] - time[after - 1] > edgeS) continue;
    const back = sign * (values[after - 1] - values[after]);
    const smaller = Math.min(size, back);
    if (smaller < least || Math.abs(values[after] - base) > COMES_BACK_SHARE * smaller) continue;
    const isLone = after === i + 1;
    const tooQuick = size >= perS * (time[i] - time[i - 1]) && back >= perS * (time[after] - time[after - 1]);
    if (!isLone && !tooQuick) continue;
    found.push({ from: i, to: after - 1, size });
    i = after;
    before = values[after];
  }
  return found;
}
