/**
 * The values at some indexes, in their order.
 * @example picked(Float64Array.of(5, 6, 7), [0, 2]) // => [5, 7]
 */
export function picked(values: Float64Array, indexes: ArrayLike<number>): Float64Array {
  const result = new Float64Array(indexes.length);
  for (let k = 0, n = result.length; k < n; k++) result[k] = values[indexes[k]];
  return result;
}
