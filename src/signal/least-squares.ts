/** A linear least-squares fit of y to given columns. */
export interface LeastSquares {
  readonly coefficients: readonly number[];
  /** Variance–covariance matrix of the coefficients for unit residual variance, (XᵀX)⁻¹. */
  readonly inverse: readonly (readonly number[])[];
  readonly residuals: Float64Array;
}

/** Inverse of a small symmetric positive matrix by Gauss–Jordan with pivoting; undefined where it is singular. */
function inverseOf(matrix: readonly (readonly number[])[]): number[][] | undefined {
  const n = matrix.length;
  const a = matrix.map((row, i) => [...row, ...Array.from({ length: n }, (_, j) => (i === j ? 1 : 0))]);
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i][k]) > Math.abs(a[pivot][k])) pivot = i;
    if (Math.abs(a[pivot][k]) < 1e-9 * Math.abs(matrix[0][0])) return undefined;
    [a[k], a[pivot]] = [a[pivot], a[k]];
    const scale = a[k][k];
    for (let j = 0; j < 2 * n; j++) a[k][j] /= scale;
    for (let i = 0; i < n; i++) {
      const factor = a[i][k];
      if (i === k || factor === 0) continue;
      for (let j = 0; j < 2 * n; j++) a[i][j] -= factor * a[k][j];
    }
  }
  return a.map((row) => row.slice(n));
}

/**
 * Ordinary least squares by the normal equations, for a handful of columns of like size (scale them to about 1).
 * @param columns one array per coefficient, each as long as `y`
 * @param y any unit
 * @returns undefined where the columns do not tell the coefficients apart. Cost O(n·k²).
 */
export function leastSquares(columns: readonly ArrayLike<number>[], y: ArrayLike<number>): LeastSquares | undefined {
  const k = columns.length;
  if (columns.some((column) => column.length !== y.length)) throw new RangeError('columns and y differ in length');
  if (y.length < k) return undefined;
  const normal = columns.map(() => new Array<number>(k).fill(0));
  const right = new Array<number>(k).fill(0);
  for (let i = 0; i < y.length; i++) {
    for (let p = 0; p < k; p++) {
      right[p] += columns[p][i] * y[i];
      for (let q = p; q < k; q++) normal[p][q] += columns[p][i] * columns[q][i];
    }
  }
  for (let p = 0; p < k; p++) for (let q = 0; q < p; q++) normal[p][q] = normal[q][p];
  const inverse = inverseOf(normal);
  if (!inverse) return undefined;
  const coefficients = inverse.map((row) => row.reduce((sum, value, q) => sum + value * right[q], 0));
  const residuals = Float64Array.from({ length: y.length }, (_, i) =>
    columns.reduce((rest, column, p) => rest - coefficients[p] * column[i], y[i]),
  );
  return { coefficients, inverse, residuals };
}
