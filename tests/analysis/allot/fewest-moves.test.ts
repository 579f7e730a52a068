import { describe, expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import type { AllotmentProblem, Plan } from "../../../analysis/allot/allotment.ts";
import { type Before, fewestMoves, movedBetween } from "../../../analysis/allot/fewest-moves.ts";
import { independentGroups } from "../../../analysis/allot/independent-groups.ts";
import { seenDifferences } from "../../../analysis/allot/seen-differences.ts";
import { plantedJob, smallJob } from "./small-jobs.ts";

const planned = (problem: AllotmentProblem): Plan | null => {
  const outcome = allot(problem);
  return outcome.kind === "plan" ? outcome : null;
};

const without = (problem: AllotmentProblem, leaf: string): AllotmentProblem => ({
  ...problem,
  leaves: problem.leaves.map((one) => (one.id === leaf ? { ...one, state: "out" } : one)),
  locks: problem.locks.filter((lock) => lock.leaf !== leaf),
});

/** How many places that could have stayed hold something else. */
const changedPlaces = (problem: AllotmentProblem, before: Before, after: Before): number =>
  after.filter(({ opening, place, leaf, turned }) => {
    const was = before.find((one) => one.opening === opening && one.place === place);
    const there = problem.leaves.find(({ id, state }) => id === was?.leaf && state === "free");
    return was && there && !(was.leaf === leaf && was.turned === turned);
  }).length;

/** The fewest changed places under a limit, by hanging every leaf everywhere. For jobs without locks and bans. */
const fewestByTrying = (problem: AllotmentProblem, before: Before, limit: number): number => {
  const places = problem.openings.flatMap(({ id, leaves, spec }) =>
    ([0, 1] as const).slice(0, leaves).map((place) => ({ opening: id, place, spec })),
  );
  let fewest = Number.POSITIVE_INFINITY;
  const hang = (hung: Before) => {
    if (seenDifferences(problem, hung).some(({ weighted }) => weighted > limit)) return;
    const at = places[hung.length];
    if (!at) {
      fewest = Math.min(fewest, changedPlaces(problem, before, hung));
      return;
    }
    for (const { id, fits, mayTurn, state } of problem.leaves) {
      if (state === "out" || hung.some(({ leaf }) => leaf === id)) continue;
      if (!("spec" in fits ? fits.spec === at.spec : fits.openings.includes(at.opening))) continue;
      for (const turned of mayTurn ? [false, true] : [false])
        hang([...hung, { opening: at.opening, place: at.place, leaf: id, turned }]);
    }
  };
  hang([]);
  return fewest;
};

describe("fewestMoves", () => {
  test("nothing changed: nothing moves, and nothing is lost", () => {
    const { problem } = plantedJob(2, 3, 3);
    const plan = planned(problem)!;
    const outcome = fewestMoves(problem, plan.places, 0);
    if (outcome.kind !== "moves") throw new Error(outcome.kind);
    expect(outcome.chosen).toMatchObject({ changed: 0, proven: true, moved: [] });
    expect(outcome.chosen.plan.worst).toBe(plan.worst);
  });

  test("a leaf is rejected: as few places change as trying every plan finds, for any loss", () => {
    let several = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const job = { ...smallJob(seed, 4), locks: [], bans: [] };
      const plan = planned(job);
      if (!plan?.spare[0]) continue;
      const problem = without(job, plan.places[0]!.leaf);
      const best = planned(problem);
      if (!best) continue;
      for (const loss of [0, 0.5, 2]) {
        const outcome = fewestMoves(problem, plan.places, loss);
        if (outcome.kind !== "moves") throw new Error(outcome.kind);
        const { chosen } = outcome;
        expect(chosen.plan.worst).toBeLessThanOrEqual(best.worst + loss);
        expect(chosen.changed, `seed ${seed}`).toBe(changedPlaces(problem, plan.places, chosen.plan.places));
        if (independentGroups(problem).length > 1) continue;
        const fewest = fewestByTrying(problem, plan.places, best.worst + loss);
        expect(chosen.changed, `seed ${seed}, loss ${loss}`).toBe(fewest);
        expect(chosen.proven).toBe(true);
        if (fewest > 0) several++;
      }
    }
    expect(several).toBeGreaterThan(10);
  });

  test("more moves along the curve, smaller differences", () => {
    for (let seed = 1; seed <= 10; seed++) {
      const job = { ...smallJob(seed, 6), locks: [], bans: [] };
      const plan = planned(job);
      if (!plan) continue;
      const shuffled = plan.places.map((one, at) => ({
        ...one,
        leaf: plan.places[(at + 1) % plan.places.length]!.leaf,
      }));
      const outcome = fewestMoves(job, shuffled, 1);
      if (outcome.kind !== "moves") throw new Error(outcome.kind);
      const { curve } = outcome;
      for (const [index, point] of curve.entries())
        if (index > 0) {
          expect(point.changed).toBeGreaterThan(curve[index - 1]!.changed);
          expect(point.plan.worst).toBeLessThan(curve[index - 1]!.plan.worst);
        }
    }
  });

  test("refused: a plan before with unknown leaves, a loss below nothing", () => {
    const { problem } = plantedJob(1, 1, 2);
    const before = [{ opening: "D01", place: 0, leaf: "L09", turned: false }] as const;
    expect(fewestMoves(problem, before, 0)).toMatchObject({
      why: "the plan before names leaf L09, which does not exist",
    });
    expect(fewestMoves(problem, [], -1)).toMatchObject({ why: "the loss is -1, not a number from 0 up" });
  });
});

test("movedBetween: exchanged, turned, hung and taken down", () => {
  const at = (opening: string, leaf: string, turned = false) => ({ opening, place: 0, leaf, turned }) as const;
  expect(
    movedBetween(
      [at("D1", "A"), at("D2", "B"), at("D3", "C"), at("D4", "D")],
      [at("D1", "B"), at("D2", "A"), at("D3", "C", true), at("D4", "E")],
    ).map(({ leaf, from, to, turned }) => [leaf, from?.opening ?? null, to?.opening ?? null, turned]),
  ).toEqual([
    ["A", "D1", "D2", false],
    ["B", "D2", "D1", false],
    ["C", "D3", "D3", true],
    ["D", "D4", null, false],
    ["E", null, "D4", false],
  ]);
});
