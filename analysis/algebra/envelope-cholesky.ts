/**
 * A symmetric positive definite matrix stored by rows from the first entry that is not nil up to the diagonal.
 * Row i lies in `values` at `start[i] .. start[i + 1]` and begins in column `first[i]`.
 * A full matrix is the case `first = 0` everywhere.
 */
export interface Envelope {
  readonly size: number;
  readonly first: Int32Array;
  readonly start: Int32Array;
  readonly values: Float64Array;
}

/** An empty envelope whose row i begins in column `first[i]` (at most i). */
export const makeEnvelope = (first: Int32Array): Envelope => {
  const size = first.length;
  const start = new Int32Array(size + 1);
  for (let i = 0; i < size; i++) start[i + 1] = start[i]! + (i - first[i]! + 1);
  return { size, first, start, values: new Float64Array(start[size]!) };
};

/** Adds to entry (i, j); the entry must lie inside the envelope. */
export const addTo = ({ first, start, values }: Envelope, i: number, j: number, value: number): void => {
  const row = Math.max(i, j);
  const column = Math.min(i, j);
  values[start[row]! + column - first[row]!]! += value;
};

export type Factored =
  | { readonly kind: "factored"; readonly factor: Envelope; readonly logDeterminant: number }
  | { readonly kind: "not-positive"; readonly row: number };

/**
 * Cholesky factor L of A = L L^T, row by row inside the envelope (George and Liu's envelope method, from memory).
 * Writes over the values handed in. `not-positive` names the first row whose pivot is not above `least` of its diagonal:
 * that unknown is not determined by the equations.
 */
export const factorEnvelope = (matrix: Envelope, least = 1e-13): Factored => {
  const { size, first, start, values } = matrix;
  let logDeterminant = 0;
  for (let i = 0; i < size; i++) {
    const fi = first[i]!;
    const ri = start[i]! - fi;
    for (let j = fi; j < i; j++) {
      const fj = first[j]!;
      const rj = start[j]! - fj;
      let sum = values[ri + j]!;
      for (let k = Math.max(fi, fj); k < j; k++) sum -= values[ri + k]! * values[rj + k]!;
      values[ri + j] = sum / values[rj + j]!;
    }
    const diagonal = values[ri + i]!;
    let pivot = diagonal;
    for (let k = fi; k < i; k++) pivot -= values[ri + k]! ** 2;
    if (!(pivot > least * Math.abs(diagonal))) return { kind: "not-positive", row: i };
    values[ri + i] = Math.sqrt(pivot);
    logDeterminant += Math.log(pivot);
  }
  return { kind: "factored", factor: matrix, logDeterminant };
};

/** Solves L z = b in place. Leading zeros of b cost nothing. */
const solveLower = ({ size, first, start, values }: Envelope, b: Float64Array): Float64Array => {
  let from = 0;
  while (from < size && b[from] === 0) from++;
  for (let i = from; i < size; i++) {
    const fi = first[i]!;
    const ri = start[i]! - fi;
    let sum = b[i]!;
    for (let k = Math.max(fi, from); k < i; k++) sum -= values[ri + k]! * b[k]!;
    b[i] = sum / values[ri + i]!;
  }
  return b;
};

/** Solves L^T x = z in place. */
const solveUpper = ({ size, first, start, values }: Envelope, z: Float64Array): Float64Array => {
  for (let i = size - 1; i >= 0; i--) {
    const fi = first[i]!;
    const ri = start[i]! - fi;
    const x = z[i]! / values[ri + i]!;
    z[i] = x;
    for (let k = fi; k < i; k++) z[k]! -= values[ri + k]! * x;
  }
  return z;
};

/** Solves A x = b in place from the factor of A. */
export const solveFactored = (factor: Envelope, b: Float64Array): Float64Array =>
  solveUpper(factor, solveLower(factor, b));
