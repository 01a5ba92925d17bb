/** Where `value` belongs among the first `count` of an ascending array. */
function insertionPoint(sorted: Float64Array, count: number, value: number): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Running median: at each sample the median of all samples within half a window on either side. Departures shorter
 * than half the window leave it untouched. At the ends the window is cut short, so there a slope pulls it inward.
 * Cost O(n w) with a small constant, w samples in a window.
 * @param time seconds, ascending
 * @param values finite, same length
 * @param windowS whole width of the window, seconds
 * @returns a level per sample, in the unit of `values`
 * @throws RangeError if lengths differ or the window is negative
 * @example runningMedian([0, 1, 2, 3, 4], [1, 1, 9, 1, 1], 2) // => [1, 1, 1, 1, 1]
 */
export function runningMedian(time: ArrayLike<number>, values: ArrayLike<number>, windowS: number): Float64Array {
  const n = time.length;
  if (n !== values.length) throw new RangeError(`${n} times but ${values.length} values`);
  if (!(windowS >= 0)) throw new RangeError(`a window cannot be ${windowS} s wide`);
  // Rounding in the time column must not decide whether a sample on the window's edge counts.
  const half = (windowS / 2) * (1 + 1e-9);
  const window = new Float64Array(n);
  const levels = new Float64Array(n);
  let first = 0;
  let end = 0;
  for (let i = 0; i < n; i++) {
    const now = time[i];
    for (; end < n && time[end] - now <= half; end++) {
      const value = values[end];
      const at = insertionPoint(window, end - first, value);
      window.copyWithin(at + 1, at, end - first);
      window[at] = value;
    }
    for (; now - time[first] > half; first++) {
      const at = insertionPoint(window, end - first, values[first]);
      window.copyWithin(at, at + 1, end - first);
    }
    const count = end - first;
    levels[i] = (window[(count - 1) >> 1] + window[count >> 1]) / 2;
  }
  return levels;
}
