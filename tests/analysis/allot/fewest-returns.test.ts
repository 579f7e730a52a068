import { describe, expect, test } from "vitest";
import type { AllotmentProblem, Opening } from "../../../analysis/allot/allotment.ts";
import { type FewestReturns, fewestReturns } from "../../../analysis/allot/fewest-returns.ts";
import { seenDifferences } from "../../../analysis/allot/seen-differences.ts";
import { bestOfEveryPlan } from "./every-plan.ts";
import { plantedJob, smallJob } from "./small-jobs.ts";

const found = (problem: AllotmentProblem, tolerance: number): FewestReturns => {
  const outcome = fewestReturns(problem, tolerance);
  if (outcome.kind !== "returns") throw new Error(outcome.kind);
  return outcome;
};

/** Every way to leave so many places empty, a pair becoming an opening for one leaf; locked leaves keep theirs. */
const emptied = (problem: AllotmentProblem, count: number, from = 0): AllotmentProblem[] => {
  if (count === 0) return [problem];
  return problem.openings.slice(from).flatMap((opening, index) => {
    const locked = problem.locks.filter((lock) => lock.opening === opening.id).length;
    if (opening.leaves <= locked) return [];
    const fewer = [...problem.openings];
    const rest: Opening[] = opening.leaves === 2 ? [{ ...opening, leaves: 1 }] : [];
    fewer.splice(from + index, 1, ...rest);
    return emptied({ ...problem, openings: fewer }, count - 1, from + index);
  });
};

const fewestOfEveryWay = (problem: AllotmentProblem, tolerance: number): number | null => {
  for (let count = 0; count <= problem.openings.length * 2; count++)
    if (emptied(problem, count).some((one) => (bestOfEveryPlan(one)?.worst ?? Number.POSITIVE_INFINITY) <= tolerance))
      return count;
  return null;
};

describe("fewestReturns", () => {
  test("as few as trying every way to leave places empty, on small jobs with all there is in them", () => {
    let several = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const problem = smallJob(seed, 4);
      if (bestOfEveryPlan(problem) === null) continue;
      for (const tolerance of [1.5, 3, 4.5]) {
        const fewest = fewestOfEveryWay(problem, tolerance);
        const outcome = fewestReturns(problem, tolerance);
        if (fewest === null) expect(outcome.kind).toBe("locks-clash");
        else {
          if (outcome.kind !== "returns") throw new Error(`${outcome.kind}, seed ${seed}`);
          expect(outcome.replace.length, `seed ${seed}, tolerance ${tolerance}`).toBe(fewest);
          expect(outcome.proven).toBe(true);
          if (fewest >= 2) several++;
        }
      }
    }
    expect(several).toBeGreaterThan(10);
  });

  test("nothing seen in the plan that is left passes the tolerance, and each leaf is hung, returned or spare", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const problem = smallJob(seed, 6);
      const outcome = fewestReturns(problem, 2.5);
      if (outcome.kind !== "returns") continue;
      for (const { weighted } of seenDifferences(problem, outcome.plan.places))
        expect(weighted).toBeLessThanOrEqual(2.5);
      const returned = outcome.replace.flatMap((one) => (one.returned === null ? [] : [one.returned]));
      expect(new Set(returned).size).toBe(returned.length);
      for (const leaf of returned) expect(outcome.plan.spare).toContain(leaf);
    }
  });

  test("one strange leaf in a planted job is the one that goes back, and a copy of another takes its place", () => {
    const { problem } = plantedJob(3, 3, 4);
    const strange = (at: number) => Math.floor(at / 2) === 0;
    const deltaE = problem.differences.deltaE.map((row, i) =>
      row.map((value, j) => (i === j ? 0 : strange(i) || strange(j) ? 9 : value)),
    );
    const outcome = found({ ...problem, differences: { ...problem.differences, deltaE } }, 1);
    expect(outcome.replace.map(({ returned }) => returned)).toEqual(["L01"]);
    expect(outcome.proven).toBe(true);
  });

  test("a tolerance that all keep needs no returns, and the order in which things stand changes nothing", () => {
    const { problem, planted } = plantedJob(5, 4, 4);
    expect(found(problem, planted).replace).toEqual([]);
    const job = smallJob(7, 6);
    const mirrored = { ...job, leaves: job.leaves.toReversed(), openings: job.openings.toReversed() };
    expect(found(mirrored, 2).replace).toEqual(found(job, 2).replace);
    expect(found(mirrored, 2).plan.places).toEqual(found(job, 2).plan.places);
  });

  test("a new leaf never has to look like one that passes the tolerance beside its neighbours", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const outcome = fewestReturns(smallJob(seed, 6), 2);
      if (outcome.kind !== "returns") continue;
      for (const { like } of outcome.replace) if (like) expect(like.worst).toBeLessThanOrEqual(2);
    }
  });

  test("leaves locked beside each other that pass the tolerance are named", () => {
    const { problem } = plantedJob(1, 1, 2);
    const locks = [
      { leaf: "L01", opening: "D01", turned: false },
      { leaf: "L02", opening: "D02", turned: false },
    ];
    const deltaE = problem.differences.deltaE.map((row, i) => row.map((_, j) => (i === j ? 0 : 5)));
    expect(fewestReturns({ ...problem, locks, differences: { ...problem.differences, deltaE } }, 2)).toEqual({
      kind: "locks-clash",
      locks,
    });
  });

  test("refused: a tolerance that is no number, a leaf that stands twice", () => {
    const { problem } = plantedJob(1, 1, 2);
    expect(fewestReturns(problem, Number.NaN)).toMatchObject({ why: "the tolerance is NaN, not a number above 0" });
    expect(fewestReturns({ ...problem, leaves: [...problem.leaves, problem.leaves[0]!] }, 2)).toMatchObject({
      why: "leaf L01 stands twice",
    });
  });
});
