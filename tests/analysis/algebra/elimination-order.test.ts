import { describe, expect, it } from "vitest";
import { eliminationOrder } from "../../../analysis/algebra/elimination-order.ts";
import { patternOf } from "../../../analysis/algebra/sparse-cholesky.ts";

const neighboursIn = (pairs: readonly (readonly [number, number])[]): Map<number, Set<number>> => {
  const neighbours = new Map<number, Set<number>>();
  for (const [one, other] of [...pairs, ...pairs.map(([i, j]) => [j, i] as const)])
    neighbours.set(one, (neighbours.get(one) ?? new Set()).add(other));
  return neighbours;
};

/** Entries of the factor in this order, and how many unknowns the first one eliminated reaches at most. */
const factorOf = (pairs: readonly (readonly [number, number])[], order: readonly number[]) => {
  const place = new Map(order.map((unknown, i) => [unknown, i]));
  const pattern = patternOf(
    order.length,
    pairs.map((pair) => pair.map((unknown) => place.get(unknown)!)),
  );
  const heights = order.map(() => 1);
  for (let j = order.length - 1; j >= 0; j--) {
    const parent = pattern.start[j + 1]! - pattern.start[j]! > 1 ? pattern.rows[pattern.start[j]! + 1] : undefined;
    if (parent !== undefined) heights[j] = 1 + heights[parent]!;
  }
  return { entries: pattern.rows.length, height: Math.max(...heights) };
};

const chain = (n: number) => Array.from({ length: n - 1 }, (_, i) => [i, i + 1] as const);

describe("the order of elimination", () => {
  it("has every unknown once, hubs last", () => {
    const pairs = [...chain(9), ...Array.from({ length: 9 }, (_, i) => [i, 9] as const)];
    const order = eliminationOrder(neighboursIn(pairs), new Set([9]));
    expect(order.at(-1)).toBe(9);
    expect(order.toSorted((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
  });

  it("fills a tree with hardly anything", () => {
    const pairs = Array.from({ length: 62 }, (_, i) => [i + 1, Math.floor(i / 2)] as const);
    // A diagonal entry an unknown, one entry a pair; rounds of about the fewest neighbours may fill one or two.
    expect(factorOf(pairs, eliminationOrder(neighboursIn(pairs), new Set())).entries).toBeLessThanOrEqual(63 + 62 + 2);
  });

  it("reaches from any link of a chain only some log n others", () => {
    for (const n of [64, 256, 1024]) {
      const { entries, height } = factorOf(chain(n), eliminationOrder(neighboursIn(chain(n)), new Set()));
      // Each round takes at least a third of what is left: log to the base of 3 / 2.
      expect(height).toBeLessThanOrEqual(2 + Math.log(n) / Math.log(1.5));
      // A link meets two others at most when it goes.
      expect(entries).toBeLessThanOrEqual(3 * n);
    }
  });
});
