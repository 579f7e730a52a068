/**
 * A symmetric positive definite matrix, or its factor L, stored by columns from the diagonal down: column j lies at
 * `start[j] .. start[j + 1]` of `rows` (ascending, the diagonal first) and of `values`. The pattern is that of L, so that
 * the factor takes the place of the matrix.
 */
export interface SparseLower {
  readonly size: number;
  readonly start: Int32Array;
  readonly rows: Int32Array;
  readonly values: Float64Array;
}

/** Where L can have entries, without their values: the same for all matrices of one pattern. */
export type Pattern = Omit<SparseLower, "values">;

/**
 * The pattern of L when every clique's unknowns meet each other in the matrix. An unknown, once eliminated, leaves those it met as
 * one more clique (elimination tree; Liu 1990, from memory).
 */
export const patternOf = (size: number, cliques: Iterable<ArrayLike<number>>): Pattern => {
  const waiting: ArrayLike<number>[][] = Array.from({ length: size }, () => []);
  for (const clique of cliques) waiting[Math.min(...Array.from(clique))]?.push(clique);
  const start = new Int32Array(size + 1);
  const columns: Int32Array[] = [];
  const metBy = new Int32Array(size).fill(-1);
  for (let j = 0; j < size; j++) {
    const met = [j];
    metBy[j] = j;
    for (const clique of waiting[j]!)
      for (let k = 0; k < clique.length; k++) {
        const row = clique[k]!;
        if (metBy[row] === j) continue;
        metBy[row] = j;
        met.push(row);
      }
    const column = Int32Array.from(met).sort();
    columns.push(column);
    start[j + 1] = start[j]! + column.length;
    if (column.length > 1) waiting[column[1]!]!.push(column.subarray(1));
  }
  const rows = new Int32Array(start[size]!);
  columns.forEach((column, j) => {
    rows.set(column, start[j]);
  });
  return { size, start, rows };
};

export const emptyMatrix = (pattern: Pattern): SparseLower => ({
  ...pattern,
  values: new Float64Array(pattern.rows.length),
});

/** Where in `values` entry (i, j) stands; it must lie in the pattern. */
export const entryAt = ({ start, rows }: Pattern, i: number, j: number): number => {
  const row = Math.max(i, j);
  const column = Math.min(i, j);
  let low = start[column]!;
  let high = start[column + 1]! - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle]! < row) low = middle + 1;
    else high = middle;
  }
  if (rows[low] !== row) throw new RangeError(`entry ${i}, ${j} lies outside the pattern`);
  return low;
};

export type SparselyFactored =
  | { readonly kind: "factored"; readonly factor: SparseLower; readonly logDeterminant: number }
  | { readonly kind: "not-positive"; readonly row: number };

/**
 * Cholesky factor L of A = L L^T, column by column, each less what the columns before it take away (left-looking; George and
 * Liu 1981, from memory). Writes over the values handed in. `not-positive` names the first row whose pivot is not above
 * `least` of its diagonal: that unknown is not determined by the equations.
 */
export const factorSparse = (matrix: SparseLower, least = 1e-13): SparselyFactored => {
  const { size, start, rows, values } = matrix;
  const work = new Float64Array(size);
  // Columns done wait in the list of the row they reach next; `reached` is where that row stands in them.
  const head = new Int32Array(size).fill(-1);
  const next = new Int32Array(size);
  const reached = new Int32Array(size);
  const waitFor = (column: number) => {
    if (reached[column]! === start[column + 1]!) return;
    const row = rows[reached[column]!]!;
    next[column] = head[row]!;
    head[row] = column;
  };
  let logDeterminant = 0;
  for (let j = 0; j < size; j++) {
    const [from, to] = [start[j]!, start[j + 1]!];
    for (let p = from; p < to; p++) work[rows[p]!] = values[p]!;
    const diagonal = work[j]!;
    for (let k = head[j]!; k >= 0; ) {
      const factor = values[reached[k]!]!;
      const end = start[k + 1]!;
      for (let p = reached[k]!; p < end; p++) work[rows[p]!]! -= factor * values[p]!;
      const following = next[k]!;
      reached[k]!++;
      waitFor(k);
      k = following;
    }
    const pivot = work[j]!;
    if (!(pivot > least * Math.abs(diagonal))) return { kind: "not-positive", row: j };
    logDeterminant += Math.log(pivot);
    const root = Math.sqrt(pivot);
    values[from] = root;
    for (let p = from + 1; p < to; p++) values[p] = work[rows[p]!]! / root;
    reached[j] = from + 1;
    waitFor(j);
  }
  return { kind: "factored", factor: matrix, logDeterminant };
};

/** Solves A x = b in place from the factor of A. */
export const solveSparse = ({ size, start, rows, values }: SparseLower, b: Float64Array): Float64Array => {
  for (let j = 0; j < size; j++) {
    const z = b[j]! / values[start[j]!]!;
    b[j] = z;
    if (z !== 0) for (let p = start[j]! + 1; p < start[j + 1]!; p++) b[rows[p]!]! -= values[p]! * z;
  }
  for (let j = size - 1; j >= 0; j--) {
    let sum = b[j]!;
    for (let p = start[j]! + 1; p < start[j + 1]!; p++) sum -= values[p]! * b[rows[p]!]!;
    b[j] = sum / values[start[j]!]!;
  }
  return b;
};

/** The places that L^-1 b reaches from those where b is not nil, ascending: up the elimination tree. */
export const reachOf = ({ start, rows }: Pattern, from: Iterable<number>): Int32Array => {
  const reached = new Set<number>();
  for (const place of from) {
    let j: number | undefined = place;
    while (j !== undefined && !reached.has(j)) {
      reached.add(j);
      j = start[j + 1]! - start[j]! > 1 ? rows[start[j]! + 1] : undefined;
    }
  }
  return Int32Array.from(reached).sort();
};

/**
 * L^-1 b at the places it reaches. Since A^-1 = L^-T L^-1, the covariance of two linear functions of the unknowns is the scalar
 * product of their L^-1 b. `work` must be nil and as long as the matrix, and is left nil.
 */
export const solveLowerAt = (
  { start, rows, values }: SparseLower,
  b: Iterable<readonly [place: number, value: number]>,
  reach: Int32Array,
  work: Float64Array,
): Float64Array => {
  for (const [place, value] of b) work[place]! += value;
  return Float64Array.from(reach, (j) => {
    const z = work[j]! / values[start[j]!]!;
    work[j] = 0;
    for (let p = start[j]! + 1; p < start[j + 1]!; p++) work[rows[p]!]! -= values[p]! * z;
    return z;
  });
};
