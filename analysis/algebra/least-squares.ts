/** What a linear fit says, and how far to trust it. */
export type Fit =
  | {
      readonly kind: "fitted";
      readonly estimate: Float64Array;
      /** Covariance of the estimate, row by row, for unit weight: times `varianceOfUnit` when weights are only relative. */
      readonly covariance: Float64Array;
      readonly residuals: Float64Array;
      /** Weighted sum of squared residuals. */
      readonly sumOfSquares: number;
      /** `sumOfSquares` over the degrees of freedom; NaN when there are none left. */
      readonly varianceOfUnit: number;
      readonly rank: number;
    }
  | { readonly kind: "rank-deficient"; readonly rank: number };

/**
 * Weighted linear least squares: the x that makes sum w (y - A x)^2 least. `design` holds A row by row.
 * Columns are brought to unit length, then Householder reflections make A triangular, so that
 * the badly scaled economic series of NIST (Longley) still holds 1e-9 relative: normal equations would not.
 * Source: Golub and Van Loan, Matrix Computations, section 5.2 (from memory).
 */
export const leastSquares = (
  design: Float64Array,
  columns: number,
  y: ArrayLike<number>,
  weights?: ArrayLike<number>,
): Fit => {
  const rows = y.length;
  const A = new Float64Array(rows * columns);
  const b = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    const root = weights ? Math.sqrt(weights[i]!) : 1;
    for (let j = 0; j < columns; j++) A[i * columns + j] = design[i * columns + j]! * root;
    b[i] = y[i]! * root;
  }
  const scale = scaleColumns(A, rows, columns);
  const rank = reflect(A, b, rows, columns);
  if (rank < columns) return { kind: "rank-deficient", rank };

  const inverse = invertUpper(A, columns);
  const estimate = new Float64Array(columns);
  const covariance = new Float64Array(columns * columns);
  for (let j = 0; j < columns; j++) {
    let sum = 0;
    for (let k = j; k < columns; k++) sum += inverse[j * columns + k]! * b[k]!;
    estimate[j] = sum / scale[j]!;
    for (let k = 0; k < columns; k++) {
      let product = 0;
      for (let m = Math.max(j, k); m < columns; m++) product += inverse[j * columns + m]! * inverse[k * columns + m]!;
      covariance[j * columns + k] = product / (scale[j]! * scale[k]!);
    }
  }
  const residuals = new Float64Array(rows);
  let sumOfSquares = 0;
  for (let i = 0; i < rows; i++) {
    let fitted = 0;
    for (let j = 0; j < columns; j++) fitted += design[i * columns + j]! * estimate[j]!;
    residuals[i] = y[i]! - fitted;
    sumOfSquares += (weights ? weights[i]! : 1) * residuals[i]! ** 2;
  }
  const varianceOfUnit = rows > columns ? sumOfSquares / (rows - columns) : Number.NaN;
  return { kind: "fitted", estimate, covariance, residuals, sumOfSquares, varianceOfUnit, rank };
};

const scaleColumns = (A: Float64Array, rows: number, columns: number): Float64Array => {
  const scale = new Float64Array(columns);
  for (let j = 0; j < columns; j++) {
    let sum = 0;
    for (let i = 0; i < rows; i++) sum += A[i * columns + j]! ** 2;
    scale[j] = Math.sqrt(sum) || 1;
    for (let i = 0; i < rows; i++) A[i * columns + j]! /= scale[j]!;
  }
  return scale;
};

/** Makes A upper triangular and turns b along with it; returns how many columns stand on their own. */
const reflect = (A: Float64Array, b: Float64Array, rows: number, columns: number): number => {
  let rank = 0;
  for (let j = 0; j < columns; j++) {
    let norm = 0;
    for (let i = j; i < rows; i++) norm += A[i * columns + j]! ** 2;
    norm = Math.sqrt(norm);
    if (!(norm > 1e-12)) continue;
    rank++;
    const top = A[j * columns + j]!;
    const alpha = top > 0 ? -norm : norm;
    const v = new Float64Array(rows);
    for (let i = j; i < rows; i++) v[i] = A[i * columns + j]!;
    v[j]! -= alpha;
    const beta = 1 / (norm * (norm + Math.abs(top)));
    for (let k = j; k < columns; k++) {
      let dot = 0;
      for (let i = j; i < rows; i++) dot += v[i]! * A[i * columns + k]!;
      dot *= beta;
      for (let i = j; i < rows; i++) A[i * columns + k]! -= dot * v[i]!;
    }
    let dot = 0;
    for (let i = j; i < rows; i++) dot += v[i]! * b[i]!;
    dot *= beta;
    for (let i = j; i < rows; i++) b[i]! -= dot * v[i]!;
  }
  return rank;
};

const invertUpper = (R: Float64Array, n: number): Float64Array => {
  const inverse = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    inverse[j * n + j] = 1 / R[j * n + j]!;
    for (let i = j - 1; i >= 0; i--) {
      let sum = 0;
      for (let k = i + 1; k <= j; k++) sum += R[i * n + k]! * inverse[k * n + j]!;
      inverse[i * n + j] = -sum / R[i * n + i]!;
    }
  }
  return inverse;
};
