import type { Envelope } from "./envelope-cholesky.ts";

/**
 * The entries of A^-1 inside the envelope of A, from its factor: all that variances of neighbours need, at the cost of
 * about one more factorisation. Column by column from the last, Z_ij = (delta_ij / L_jj - sum over k > j of Z_ik L_kj) / L_jj
 * (Takahashi, Fagan and Chen 1973, from memory).
 */
export const inverseInEnvelope = (factor: Envelope): Envelope => {
  const { size, first, start, values } = factor;
  const inverse = new Float64Array(values.length);
  const below = rowsBelow(factor);
  for (let j = size - 1; j >= 0; j--) {
    const rows = below[j]!;
    const pivot = values[start[j + 1]! - 1]!;
    let diagonal = 1 / pivot;
    for (const i of rows) {
      let sum = 0;
      for (const k of rows) {
        const row = Math.max(i, k);
        const column = Math.min(i, k);
        sum += inverse[start[row]! + column - first[row]!]! * values[start[k]! + j - first[k]!]!;
      }
      inverse[start[i]! + j - first[i]!] = -sum / pivot;
      diagonal += (sum / pivot) * values[start[i]! + j - first[i]!]!;
    }
    inverse[start[j + 1]! - 1] = diagonal / pivot;
  }
  return { size, first, start, values: inverse };
};

/** For each column the rows below its diagonal whose envelope reaches it. */
const rowsBelow = ({ size, first }: Envelope): readonly number[][] => {
  const below: number[][] = Array.from({ length: size }, () => []);
  for (let i = 0; i < size; i++) for (let j = first[i]!; j < i; j++) below[j]!.push(i);
  return below;
};

/** Entry (i, j), which must lie inside the envelope. */
export const entryOf = ({ first, start, values }: Envelope, i: number, j: number): number => {
  const row = Math.max(i, j);
  const column = Math.min(i, j);
  if (column < first[row]!) throw new RangeError(`entry ${i}, ${j} lies outside the envelope`);
  return values[start[row]! + column - first[row]!]!;
};
