/**
 * Largest of any number of values; `Math.max(...values)` fails on a long log, as a call takes only so many arguments.
 * @returns −∞ for none
 * @example largest([3, 1, 2]) // => 3
 */
export function largest(values: ArrayLike<number>): number {
  let top = Number.NEGATIVE_INFINITY;
  for (let i = 0, n = values.length; i < n; i++) if (values[i] > top) top = values[i];
  return top;
}

/**
 * Smallest of any number of values.
 * @returns ∞ for none
 * @example smallest([3, 1, 2]) // => 1
 */
export function smallest(values: ArrayLike<number>): number {
  let low = Number.POSITIVE_INFINITY;
  for (let i = 0, n = values.length; i < n; i++) if (values[i] < low) low = values[i];
  return low;
}
