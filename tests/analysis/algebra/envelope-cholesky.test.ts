import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addTo, factorEnvelope, makeEnvelope, solveFactored } from "../../../analysis/algebra/envelope-cholesky.ts";

/** A chain of n unknowns, each tied to the next, with a little weight of its own. */
const chain = (n: number, own: number) => {
  const matrix = makeEnvelope(Int32Array.from({ length: n }, (_, i) => Math.max(0, i - 1)));
  for (let i = 0; i < n; i++) {
    addTo(matrix, i, i, own);
    if (i === 0) continue;
    addTo(matrix, i, i, 1);
    addTo(matrix, i - 1, i - 1, 1);
    addTo(matrix, i, i - 1, -1);
  }
  return matrix;
};

describe("envelope Cholesky", () => {
  it("solves what it was multiplied by", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 30 }), fc.double({ min: 0.01, max: 2, noNaN: true }), (n, own) => {
        const x = Float64Array.from({ length: n }, (_, i) => Math.sin(i + 1));
        const b = x.map((value, i) => {
          const left = i > 0 ? value - x[i - 1]! : 0;
          const right = i < n - 1 ? value - x[i + 1]! : 0;
          return own * value + left + right;
        });
        const factored = factorEnvelope(chain(n, own));
        if (factored.kind !== "factored") throw new Error(`row ${factored.row}`);
        const found = solveFactored(factored.factor, Float64Array.from(b));
        found.forEach((value, i) => {
          expect(value).toBeCloseTo(x[i]!, 8);
        });
      }),
      { seed: 2 },
    );
  });

  it("knows the determinant of a 2 x 2", () => {
    const matrix = makeEnvelope(Int32Array.from([0, 0]));
    addTo(matrix, 0, 0, 4);
    addTo(matrix, 0, 1, 2);
    addTo(matrix, 1, 1, 3);
    const factored = factorEnvelope(matrix);
    expect(factored.kind === "factored" && factored.logDeterminant).toBeCloseTo(Math.log(8), 12);
  });

  it("names the unknown that nothing determines", () => {
    expect(factorEnvelope(chain(5, 0))).toEqual({ kind: "not-positive", row: 4 });
  });
});
