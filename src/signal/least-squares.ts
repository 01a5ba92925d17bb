/** A linear least-squares fit of y to given columns. */
export interface LeastSquares {
  readonly coefficients: readonly number[];
  /** Variance–covariance matrix of the coefficients for unit residual variance, (XᵀX)⁻¹. */
  readonly inverse: readonly (readonly number[])[];
  readonly residuals: Float64Array;
}

/** XᵀX, Xᵀy and yᵀy; cost O(n·k²). */
function normalEquations(columns: readonly ArrayLike<number>[], y: ArrayLike<number>) {
  const k = columns.length;
  if (columns.some((column) => column.length !== y.length)) throw new RangeError('columns and y differ in length');
  const normal = columns.map(() => new Array<number>(k).fill(0));
  const right = new Array<number>(k).fill(0);
  for (let p = 0; p < k; p++) {
    const column = columns[p];
    let sum = 0;
    for (let i = 0, end = y.length; i < end; i++) sum += column[i] * y[i];
    right[p] = sum;
    for (let q = p; q < k; q++) {
      const other = columns[q];
      let product = 0;
      for (let i = 0, end = y.length; i < end; i++) product += column[i] * other[i];
      normal[p][q] = product;
      normal[q][p] = product;
    }
  }
  return { normal, right };
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
 * What least squares leaves over: Σ(y − Xb)², or undefined where the columns do not tell the coefficients apart.
 * For columns of like size; cheaper than the whole fit. Cost O(n·k²).
 */
export function residualSquare(columns: readonly ArrayLike<number>[], y: ArrayLike<number>): number | undefined {
  const k = columns.length;
  const { normal, right } = normalEquations(columns, y);
  const a = normal.map((row, p) => [...row, right[p]]);
  for (let p = 0; p < k; p++) {
    if (a[p][p] < 1e-9 * normal[p][p]) return undefined;
    for (let q = p + 1; q < k; q++) {
      const factor = a[q][p] / a[p][p];
      for (let j = p; j <= k; j++) a[q][j] -= factor * a[p][j];
    }
  }
  const b = new Array<number>(k).fill(0);
  for (let p = k - 1; p >= 0; p--) {
    let rest = a[p][k];
    for (let j = p + 1; j < k; j++) rest -= a[p][j] * b[j];
    b[p] = rest / a[p][p];
  }
  let sum = 0;
  for (let i = 0, end = y.length; i < end; i++) {
    let rest = y[i];
    for (let p = 0; p < k; p++) rest -= b[p] * columns[p][i];
    sum += rest * rest;
  }
  return sum;
}

/**
 * Ordinary least squares by the normal equations, for a handful of columns of like size (scale them to about 1).
 * @param columns one array per coefficient, each as long as `y`
 * @param y any unit
 * @returns undefined where the columns do not tell the coefficients apart. Cost O(n·k²).
 */
export function leastSquares(columns: readonly ArrayLike<number>[], y: ArrayLike<number>): LeastSquares | undefined {
  if (y.length < columns.length) return undefined;
  const { normal, right } = normalEquations(columns, y);
  const inverse = inverseOf(normal);
  if (!inverse) return undefined;
  const coefficients = inverse.map((row) => row.reduce((sum, value, q) => sum + value * right[q], 0));
  const residuals = Float64Array.from({ length: y.length }, (_, i) =>
    columns.reduce((rest, column, p) => rest - coefficients[p] * column[i], y[i]),
  );
  return { coefficients, inverse, residuals };
}
