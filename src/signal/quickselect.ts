/**
 * The value of rank `k` (from 0) among `values[left]` … `values[right]`, by Hoare's selection; reorders these so that nothing before
 * index `k` is greater and nothing after it is smaller. Cost O(n) on average.
 * @param values finite; those outside the bounds stay where they are
 * @param k index, `left` ≤ `k` ≤ `right`
 * @example quickselect(Float64Array.of(5, 1, 4, 2), 1) // => 2
 */
export function quickselect(values: Float64Array, k: number, left = 0, right = values.length - 1): number {
  let low = left;
  let high = right;
  while (low < high) {
    const pivot = middleOf(values[low], values[(low + high) >> 1], values[high]);
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i] < pivot) i++;
      while (values[j] > pivot) j--;
      if (i > j) break;
      const swapped = values[i];
      values[i++] = values[j];
      values[j--] = swapped;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else break;
  }
  return values[k];
}

function middleOf(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
