import { expect, test } from "vitest";
import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import { hittingSet } from "../../../analysis/allot/hitting-set.ts";

const plenty = () => ({ left: 1e7 });

/** The fewest of `count` members that hit every set, by trying all of them. */
const fewestByTrying = (sets: readonly (readonly number[])[], count: number): number => {
  let fewest = Number.POSITIVE_INFINITY;
  for (let chosen = 0; chosen < 1 << count; chosen++)
    if (sets.every((set) => set.some((member) => ((chosen >> member) & 1) === 1))) {
      const size = Array.from({ length: count }, (_, member) => (chosen >> member) & 1).reduce((a, b) => a + b, 0);
      fewest = Math.min(fewest, size);
    }
  return fewest;
};

test("as few members as trying all of them, and every set is hit", () => {
  const draw = uniformFrom(1);
  for (let job = 0; job < 60; job++) {
    const sets = Array.from({ length: 3 + Math.floor(draw() * 12) }, () => {
      const set = Array.from({ length: 10 }, (_, member) => member).filter(() => draw() < 0.3);
      return set.length > 0 ? set : [Math.floor(draw() * 10)];
    });
    const fewest = fewestByTrying(sets, 10);
    expect(hittingSet(sets, fewest - 1, plenty())).toBe("none");
    const hit = hittingSet(sets, fewest, plenty());
    if (typeof hit === "string") throw new Error(hit);
    expect(hit.length).toBeLessThanOrEqual(fewest);
    for (const set of sets) expect(set.some((member) => hit.includes(member))).toBe(true);
  }
});

test("no sets need no members; work that runs out leaves it undecided", () => {
  expect(hittingSet([], 0, plenty())).toEqual([]);
  expect(hittingSet([[1, 2]], 1, { left: 0 })).toBe("undecided");
});
