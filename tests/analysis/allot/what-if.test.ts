import { describe, expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import { whatIf } from "../../../analysis/allot/what-if.ts";
import { bestOfEveryPlan } from "./every-plan.ts";
import { plantedJob, smallJob } from "./small-jobs.ts";

describe("whatIf", () => {
  test("a lock costs what every plan with it and every plan without it differ by, and it is kept", () => {
    let dear = 0;
    for (let seed = 1; seed <= 25; seed++) {
      const problem = { ...smallJob(seed, 5), locks: [], bans: [] };
      const before = allot(problem);
      if (before.kind !== "plan") continue;
      const { opening, leaf } = before.places[0]!;
      const other = before.places.find(
        (one) =>
          one.opening !== opening &&
          problem.openings.find(({ id }) => id === one.opening)!.spec ===
            problem.openings.find(({ id }) => id === opening)!.spec,
      );
      if (!other) continue;
      const lock = { leaf, opening: other.opening };
      const outcome = whatIf(problem, before.places, { locks: [lock], bans: [] }, 0);
      const tried = bestOfEveryPlan({ ...problem, locks: [lock] });
      if (outcome.kind !== "what-if") {
        expect(tried).toBeNull();
        continue;
      }
      expect(outcome.costs.worst).toBeCloseTo(tried!.worst - bestOfEveryPlan(problem)!.worst, 9);
      expect(outcome.least.plan.worst).toBeLessThanOrEqual(outcome.wished.worst);
      expect(outcome.least.plan.places).toContainEqual(expect.objectContaining(lock));
      expect(outcome.least.moved.map((one) => one.leaf)).toContain(leaf);
      if (outcome.costs.worst > 0) dear++;
    }
    expect(dear).toBeGreaterThan(3);
  });

  test("locking what the plan has already costs nothing and moves nothing", () => {
    const { problem } = plantedJob(4, 3, 3);
    const before = allot(problem);
    if (before.kind !== "plan") throw new Error(before.kind);
    const { opening, place, leaf, turned } = before.places[4]!;
    expect(whatIf(problem, before.places, { locks: [{ leaf, opening, place, turned }], bans: [] }, 0)).toMatchObject({
      costs: { worst: 0 },
      least: { changed: 0, moved: [] },
    });
  });

  test("a new lock of a leaf takes the place of its old one; one that cannot be is refused by name", () => {
    const { problem } = plantedJob(4, 2, 2);
    const locks = [{ leaf: "L01", opening: "D01" }];
    const wish = (leaf: string, opening: string) => ({ locks: [{ leaf, opening }], bans: [] });
    const outcome = whatIf({ ...problem, locks }, [], wish("L01", "D02"), 0);
    if (outcome.kind !== "what-if") throw new Error(outcome.kind);
    expect(outcome.wished.places).toContainEqual(expect.objectContaining({ leaf: "L01", opening: "D02" }));
    expect(whatIf(problem, [], wish("L01", "D09"), 0)).toEqual({
      kind: "refused",
      why: "the lock of leaf L01 names opening D09, which does not exist",
    });
  });
});
