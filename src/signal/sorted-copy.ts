/**
 * An ascending copy; the input stays as it was.
 * @throws RangeError if there is nothing to sort
 * @example sortedCopy([3, 1, 2]) // => [1, 2, 3]
 */
export function sortedCopy(values: ArrayLike<number>): Float64Array {
  if (values.length === 0) throw new RangeError('needs at least one value');
  return new Float64Array(values).sort();
}
