import { median } from './median.ts';
import { robustSpread } from './robust-spread.ts';
import { workspace } from './working-copy.ts';

const roomForDifferences = workspace();

/** The smallest difference that is one; ∞ where there is none. */
function smallestStep(differences: Float64Array): number {
  let smallest = Infinity;
  for (let i = 0, n = differences.length; i < n; i++) {
    const size = Math.abs(differences[i]);
    if (size > 0 && size < smallest) smallest = size;
  }
  return smallest;
}

/**
 * Standard deviation of the sample-to-sample noise on a slowly moving signal: the robust spread of successive
 * differences over √2. A steady slope and a few steps or spikes do not move it.
 *
 * Coarsely quantised data often repeat a value, so that more than half of the differences are zero and the spread
 * says nothing. Then the noise is that of rounding: the smallest step seen over √12. A constant signal, and a ramp
 * without any noise, give 0.
 * @param values finite, in order of time, evenly spaced or nearly so
 * @returns in the unit of `values`
 * @throws RangeError if there are fewer than two values
 * @example noiseLevel([5, 5, 5, 6, 6, 6, 6, 5, 5]) // => 0.2887
 */
export function noiseLevel(values: ArrayLike<number>): number {
  if (values.length < 2) throw new RangeError('a noise level needs at least two values');
  const differences = roomForDifferences(values.length - 1);
  let before = values[0];
  for (let i = 0, n = differences.length; i < n; i++) {
    const value = values[i + 1];
    differences[i] = value - before;
    before = value;
  }
  const spread = robustSpread(differences) / Math.SQRT2;
  if (spread > 0 || median(differences) !== 0) return spread;
  const step = smallestStep(differences);
  return step === Infinity ? spread : step / Math.sqrt(12);
}
