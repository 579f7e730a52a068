import fc from "fast-check";
import { expect, test } from "vitest";
import { nthSmallest } from "../../../analysis/algebra/nth-smallest.ts";

test("the n-th smallest is the n-th of the sorted values, ties among them", () => {
  const values = fc.array(fc.integer({ min: -20, max: 20 }), { minLength: 1, maxLength: 300 });
  fc.assert(
    fc.property(values, fc.nat(), (some, at) => {
      const n = at % some.length;
      expect(nthSmallest(Float64Array.from(some), n)).toBe(some.toSorted((a, b) => a - b)[n]);
    }),
    { seed: 12, numRuns: 500 },
  );
});

test("there is none of nothing, nor beyond the last", () => {
  expect(nthSmallest(new Float64Array(0), 0)).toBeNaN();
  expect(nthSmallest(Float64Array.of(3, 1), 2)).toBeNaN();
});
