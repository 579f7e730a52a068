import fc from "fast-check";
import { expect, test } from "vitest";
import {
  add,
  countLeaves,
  countValues,
  firstValue,
  has,
  keepOnly,
  remove,
  swapNeighbours,
  valuesOf,
  wordsFor,
} from "../../../analysis/allot/value-sets.ts";

const someValues = fc.uniqueArray(fc.integer({ min: 0, max: 99 }));

test("a set of bits holds what a Set holds", () => {
  fc.assert(
    fc.property(someValues, fc.integer({ min: 0, max: 99 }), (values, other) => {
      const words = wordsFor(100);
      const sets = new Int32Array(2 * words);
      for (const value of values) add(sets, words, value);
      expect(valuesOf(sets, words, words)).toEqual(values.toSorted((a, b) => a - b));
      expect(valuesOf(sets, 0, words)).toEqual([]);
      expect(firstValue(sets, words, words)).toBe(values.length > 0 ? Math.min(...values) : -1);
      expect(countValues(sets, words, words)).toBe(values.length);
      expect(countLeaves(sets, words, words)).toBe(new Set(values.map((value) => value >>> 1)).size);
      remove(sets, words, other);
      expect(has(sets, words, other)).toBe(false);
      keepOnly(sets, words, words, other);
      expect(valuesOf(sets, words, words)).toEqual([other]);
    }),
    { seed: 1 },
  );
});

test("swapping neighbours takes value v to v ^ 1", () => {
  for (let bit = 0; bit < 32; bit++) expect(swapNeighbours(1 << bit)).toBe(1 << (bit ^ 1));
});
