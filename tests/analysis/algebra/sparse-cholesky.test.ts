import { describe, expect, it } from "vitest";
import { addTo, factorEnvelope, makeEnvelope, solveFactored } from "../../../analysis/algebra/envelope-cholesky.ts";
import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import {
  emptyMatrix,
  entryAt,
  factorSparse,
  patternOf,
  reachOf,
  solveLowerAt,
  solveSparse,
} from "../../../analysis/algebra/sparse-cholesky.ts";

/** A sparse matrix of random cliques, and the same as a full one. */
const random = (size: number, seed: number) => {
  const uniform = uniformFrom(seed);
  const cliques = Array.from({ length: size }, (_, i) =>
    Array.from(new Set([i, ...Array.from({ length: 2 }, () => Math.floor(size * uniform()))])),
  );
  const sparse = emptyMatrix(patternOf(size, cliques));
  const full = makeEnvelope(new Int32Array(size));
  const add = (i: number, j: number, value: number) => {
    sparse.values[entryAt(sparse, i, j)]! += value;
    addTo(full, i, j, value);
  };
  for (const clique of cliques) {
    const factors = clique.map(() => uniform() - 0.5);
    clique.forEach((one, k) => {
      clique.slice(0, k).forEach((other, m) => {
        add(one, other, factors[k]! * factors[m]!);
      });
      add(one, one, factors[k]! ** 2 + 0.1);
    });
  }
  const [factoredSparse, factoredFull] = [factorSparse(sparse), factorEnvelope(full)];
  if (factoredSparse.kind !== "factored" || factoredFull.kind !== "factored") throw new Error("not positive");
  return { sparse: factoredSparse, full: factoredFull };
};

const sizes = [1, 2, 7, 40];

describe("sparse Cholesky", () => {
  it("is the full one without its nil entries", () => {
    for (const size of sizes) {
      const { sparse, full } = random(size, size);
      const right = Float64Array.from({ length: size }, (_, i) => Math.sin(i + 1));
      const expected = solveFactored(full.factor, right.slice());
      solveSparse(sparse.factor, right).forEach((value, i) => {
        expect(value).toBeCloseTo(expected[i]!, 9);
      });
      expect(sparse.logDeterminant).toBeCloseTo(full.logDeterminant, 9);
      expect(sparse.factor.values.length).toBeLessThanOrEqual(full.factor.values.length);
    }
  });

  it("has the covariance of two functions as the product of half solves", () => {
    const { sparse, full } = random(40, 3);
    const work = new Float64Array(40);
    const half = (b: readonly (readonly [number, number])[]) => {
      const reach = reachOf(
        sparse.factor,
        b.map(([place]) => place),
      );
      const dense = new Float64Array(40);
      solveLowerAt(sparse.factor, b, reach, work).forEach((value, i) => {
        dense[reach[i]!] = value;
      });
      return dense;
    };
    const [one, other] = [
      half([[4, 2]]),
      half([
        [9, 1],
        [30, -3],
      ] as const),
    ];
    const right = new Float64Array(40);
    right[9] = 1;
    right[30] = -3;
    expect(one.reduce((sum, value, i) => sum + value * other[i]!, 0)).toBeCloseTo(
      2 * solveFactored(full.factor, right)[4]!,
      9,
    );
    expect(work.every((value) => value === 0)).toBe(true);
  });

  it("names the unknown that nothing determines, and refuses entries outside its pattern", () => {
    const matrix = emptyMatrix(patternOf(3, [[0], [1, 2]]));
    for (const [i, j, value] of [
      [0, 0, 1],
      [1, 1, 1],
      [1, 2, -1],
      [2, 2, 1],
    ] as const)
      matrix.values[entryAt(matrix, i, j)]! += value;
    expect(factorSparse(matrix)).toEqual({ kind: "not-positive", row: 2 });
    expect(() => entryAt(matrix, 0, 2)).toThrow(/outside/);
  });
});
