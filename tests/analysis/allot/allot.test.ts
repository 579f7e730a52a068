import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { allot, allotByHand, allotSteps, type Effort, standardEffort } from "../../../analysis/allot/allot.ts";
import type { AllotmentProblem, Leaf, Plan } from "../../../analysis/allot/allotment.ts";
import { independentGroups } from "../../../analysis/allot/independent-groups.ts";
import { instance } from "../../bench/allotment-instances.ts";
import { bestOfEveryPlan } from "./every-plan.ts";
import { plantedJob, smallJob, wishfulJob } from "./small-jobs.ts";

/** Enough for the worst; the sum is not looked at. */
const worstOnly: Effort = { ...standardEffort, nextLooks: 0, sumLooks: 0, exchanges: 10 };

/** Enough to settle every difference of a small job, and its sum. */
const toTheEnd: Effort = { ...standardEffort, nextLooks: 4e6, sumLooks: 4e6 };

const planFor = (problem: AllotmentProblem, effort: Effort = standardEffort): Plan => {
  const outcome = allot(problem, effort);
  if (outcome.kind !== "plan") throw new Error(JSON.stringify(outcome));
  return outcome;
};

describe("against every plan there is", () => {
  const jobs = Array.from({ length: 80 }, (_, n) => ({
    seed: n + 1,
    problem: smallJob(n + 1, n < 76 ? 3 + (n % 3) : 6),
  }));

  test.each(jobs)("job $seed: the worst is the least there is, and so are the next ones and the sum", ({ problem }) => {
    const outcome = allot(problem, toTheEnd);
    if (bestOfEveryPlan(problem) === null) return expect(outcome.kind).toBe("impossible");
    const plan = planFor(problem, toTheEnd);
    expect(plan.proven).toBe(true);
    const groups = independentGroups(problem);
    const bests = groups.map((group, n) => bestOfEveryPlan(group, plan.settled[n]!.length)!);
    expect(plan.worst).toBe(Math.max(...bests.map(({ worst }) => worst)));
    for (const [n, settled] of plan.settled.entries())
      expect(settled.map(({ worst }) => worst)).toEqual(settled.map((_, i) => bests[n]!.largest[i] ?? 0));
    expect(plan.sum).toBeCloseTo(
      bests.reduce((total, { sum }) => total + sum, 0),
      9,
    );
  });

  test("several largest differences are settled in most jobs", () => {
    const deep = jobs.filter(({ problem }) => {
      const plan = allot(problem, toTheEnd);
      return plan.kind === "plan" && plan.settled.some((settled) => settled.length >= 3);
    });
    expect(deep.length).toBeGreaterThan(20);
  });

  test("the jobs hold both possible and impossible ones", () => {
    const possible = jobs.filter(({ problem }) => bestOfEveryPlan(problem) !== null).length;
    expect(possible).toBeGreaterThan(50);
    expect(possible).toBeLessThan(80);
  });
});

describe("against every plan there is, with all the other wishes", () => {
  const jobs = Array.from({ length: 90 }, (_, n) => ({
    seed: n + 1,
    problem: wishfulJob(n + 1, n < 84 ? 3 + (n % 3) : 6),
  }));
  const possible = jobs.filter(({ problem }) => bestOfEveryPlan(problem) !== null);

  test("the jobs hold both possible and impossible ones, and each wish changes the best of some", () => {
    expect(possible.length).toBeGreaterThan(40);
    expect(possible.length).toBeLessThan(90);
    const without: readonly ((problem: AllotmentProblem) => AllotmentProblem)[] = [
      (problem) => ({ ...problem, confidence: 0.5 }),
      (problem) => ({ ...problem, sight: { beside: 1, across: 1, apart: 1 } }),
      (problem) => ({ ...problem, leaves: problem.leaves.map((leaf) => ({ ...leaf, fireMinutes: 60 })) }),
      ({ leaves, openings, ...problem }) => ({
        ...problem,
        leaves: leaves.map((leaf) => ({ ...leaf, hand: "left" })),
        openings: openings.map((opening) => ({ ...opening, hand: "left" })),
      }),
      ({ spaces, ...problem }) => ({
        ...problem,
        spaces: spaces.map((space) => ({ ...space, gentle: { goes: "lighter", stepBack: 0 } })),
      }),
      ({ spaces, ...problem }) => ({
        ...problem,
        spaces: spaces.map((space) => ({ ...space, lightBesideDark: { average: 60, adds: 0 } })),
      }),
      ({ spaces, ...problem }) => ({ ...problem, spaces: spaces.map((space) => ({ ...space, marksCount: 0 })) }),
    ];
    const few = possible.filter(({ problem }) => problem.leaves.length <= 5);
    const bests = few.map(({ problem }) => bestOfEveryPlan(problem)?.sum);
    for (const change of without)
      expect(few.filter(({ problem }, n) => bestOfEveryPlan(change(problem))?.sum !== bests[n]).length).toBeGreaterThan(
        1,
      );
  });

  test.each(jobs)(
    "job $seed: the settled differences are the least there are, the sum too where it says so",
    ({ problem }) => {
      const outcome = allot(problem, toTheEnd);
      if (bestOfEveryPlan(problem) === null) return expect(outcome.kind).not.toBe("plan");
      const plan = planFor(problem, toTheEnd);
      expect(plan.proven).toBe(true);
      let least = 0;
      for (const [n, group] of independentGroups(problem).entries()) {
        const settled = plan.settled[n]!;
        const best = bestOfEveryPlan(group, settled.length)!;
        for (const [i, { worst, bound }] of settled.entries()) {
          expect(worst).toBeCloseTo(best.largest[i] ?? 0, 5);
          expect(bound).toBe(worst);
        }
        least += best.sum;
      }
      if (plan.sumProven) expect(plan.sum).toBeCloseTo(least, 5);
      expect(plan.sum).toBeGreaterThan(least - 1e-5);
    },
  );

  test("where no two differences are alike, all of them are settled, down to the smallest", () => {
    let whole = 0;
    for (const { problem } of possible) {
      if (problem.differences.deltaE.flat().includes(null)) continue;
      const plan = planFor(problem, toTheEnd);
      for (const [n, group] of independentGroups(problem).entries()) {
        const { largest } = bestOfEveryPlan(group, Number.POSITIVE_INFINITY)!;
        const counted = largest.filter((cost) => cost > 0);
        if (counted.some((cost, i) => Math.abs(cost - (counted[i + 1] ?? -1)) < 1e-9)) continue;
        whole++;
        const settled = plan.settled[n]!.map(({ worst }) => worst).filter((worst) => worst > 0);
        expect(settled).toHaveLength(counted.length);
        for (const [i, worst] of settled.entries()) expect(worst).toBeCloseTo(counted[i]!, 5);
      }
    }
    expect(whole).toBeGreaterThan(20);
  });

  test("with a tolerance: no difference above it grows for it, the spaces over it stay few, the sum says nothing untrue", () => {
    let [fewest, jobsTold] = [0, 0];
    for (const { problem } of possible) {
      const tolerant = { ...problem, tolerance: 2.5 };
      const groups = independentGroups(tolerant);
      if (groups.length > 1) continue;
      const plan = planFor(tolerant, toTheEnd);
      const settled = plan.settled[0]!;
      const best = bestOfEveryPlan(tolerant, settled.length)!;
      for (const [i, { worst }] of settled.entries()) expect(worst).toBeCloseTo(best.largest[i] ?? 0, 5);
      const over = plan.perSpace.filter(({ worst }) => worst > 2.5).length;
      expect(over).toBeGreaterThanOrEqual(best.spacesOver);
      jobsTold++;
      if (over === best.spacesOver) fewest++;
      if (plan.sumProven) {
        expect(plan.sum).toBeCloseTo(best.sum, 5);
      }
    }
    expect(jobsTold).toBeGreaterThan(20);
    expect(fewest / jobsTold).toBeGreaterThan(0.9);
  });

  test("stopped at any step there is a valid plan, and its bound holds", () => {
    let stops = 0;
    for (const { problem } of possible.slice(0, 12)) {
      const best = bestOfEveryPlan(problem)!;
      for (let stopAt = 1; ; stopAt++) {
        const steps = allotSteps(problem, standardEffort);
        let step = steps.next();
        for (let n = 1; n < stopAt && !step.done; n++) step = steps.next();
        if (step.done) break;
        for (stops++; !step.done; ) step = steps.next("stop");
        if (step.value.kind !== "plan") throw new Error(step.value.kind);
        const plan = step.value;
        expect(new Set(plan.places.map(({ leaf }) => leaf)).size).toBe(
          problem.openings.reduce((count, { leaves }) => count + leaves, 0),
        );
        expect(plan.bound).toBeLessThanOrEqual(best.worst + 1e-5);
        expect(plan.worst).toBeGreaterThanOrEqual(best.worst - 1e-5);
        expect(plan.proven).toBe(plan.bound >= plan.worst);
        if (plan.sumProven) expect(plan.sum).toBeLessThanOrEqual(best.sum + 1e-5);
      }
    }
    expect(stops).toBeGreaterThan(40);
  });
});

describe("planted plans", () => {
  test.each([1, 2, 3, 4])("job %i: 24 leaves, six halls: the planted plan is found and proven best", (seed) => {
    const { problem, planted } = plantedJob(seed, 6, 4);
    const plan = planFor(problem);
    expect(plan.worst).toBe(planted);
    expect(plan.proven).toBe(true);
  });
});

describe("what must hold for any job", () => {
  test("every place has a leaf of its own that fits, and locks and bans are kept", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), fc.integer({ min: 2, max: 8 }), (seed, places) => {
        const problem = smallJob(seed, places);
        const plan = allot(problem);
        if (plan.kind !== "plan") return;
        expect(new Set(plan.places.map(({ leaf }) => leaf)).size).toBe(places);
        for (const lock of problem.locks) {
          const placed = plan.places.find(({ leaf }) => leaf === lock.leaf);
          expect(placed?.opening).toBe(lock.opening);
          if (lock.turned !== undefined) expect(placed?.turned).toBe(lock.turned);
        }
        for (const { leaf, turned, opening, faceTo } of plan.places) {
          if (turned) expect(problem.leaves.find(({ id }) => id === leaf)?.mayTurn).toBe(true);
          for (const ban of problem.bans) {
            if (ban.leaf !== leaf) continue;
            if ("opening" in ban) expect(opening).not.toBe(ban.opening);
            else if (ban.face) expect(faceTo[ban.face]).not.toBe(ban.space);
            else expect(Object.values(faceTo)).not.toContain(ban.space);
          }
        }
      }),
      { seed: 1, numRuns: 60 },
    );
  });

  test("the order of the lists changes nothing at all", () => {
    for (const seed of [1, 2, 3]) {
      const problem = instance(24, seed);
      const shuffled = {
        ...problem,
        leaves: problem.leaves.toReversed(),
        openings: problem.openings.toReversed(),
        spaces: problem.spaces.toReversed(),
      };
      const [plan, same] = [planFor(problem), planFor(shuffled)];
      expect(same.places).toEqual(plan.places);
      expect(same.sum).toBe(plan.sum);
    }
  });

  test("other names for the leaves change neither the worst nor its proof", () => {
    for (const seed of [1, 2, 3]) {
      const problem = instance(24, seed);
      const renamed = { ...problem, leaves: problem.leaves.map((leaf, n) => ({ ...leaf, id: `Z${99 - n}` })) };
      const [plan, same] = [planFor(problem, worstOnly), planFor(renamed, worstOnly)];
      expect(plan.proven && same.proven).toBe(true);
      expect(same.worst).toBe(plan.worst);
    }
  });

  test("one leaf more never makes the worst larger", () => {
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const problem = instance(21, seed);
      const last = problem.leaves.at(-1)!.id;
      const leaves = problem.leaves.map((leaf): Leaf => (leaf.id === last ? { ...leaf, state: "out" } : leaf));
      const without = allot({ ...problem, leaves }, worstOnly);
      if (without.kind !== "plan") continue;
      expect(planFor(problem, worstOnly).worst).toBeLessThanOrEqual(without.worst);
    }
  });

  test("turning a leaf with two equal faces changes nothing", () => {
    const { problem } = plantedJob(5, 3, 3);
    const deltaE = problem.differences.deltaE.map((row) => row.map((value, j) => (j === 1 ? row[0]! : value)));
    deltaE[1] = deltaE[0]!.slice();
    for (const row of deltaE) row[1] = row[0]!;
    deltaE[0]![0] = deltaE[0]![1] = deltaE[1]![0] = deltaE[1]![1] = 0;
    const alike = { ...problem, differences: { ...problem.differences, deltaE } };
    const opening = planFor(alike).places.find(({ leaf }) => leaf === "L01")!.opening;
    const locked = (turned: boolean) => planFor({ ...alike, locks: [{ leaf: "L01", opening, turned }] });
    expect(locked(true).worst).toBe(locked(false).worst);
    expect(locked(true).sum).toBeCloseTo(locked(false).sum, 9);
  });
});

describe("beside what a person does", () => {
  test("never worse than sorted and dealt, nor than by eye, and better than both in most jobs", () => {
    let better = 0;
    for (let seed = 1; seed <= 8; seed++) {
      const problem = instance(24, seed);
      const plan = planFor(problem);
      const [sorted, byEye] = [allotByHand(problem, "sorted"), allotByHand(problem, "by-eye")];
      if (sorted.kind !== "plan" || byEye.kind !== "plan") throw new Error("no plan by hand");
      expect(plan.worst).toBeLessThanOrEqual(Math.min(sorted.worst, byEye.worst));
      if (plan.worst < Math.min(sorted.worst, byEye.worst) - 0.1) better++;
      expect(plan.sum).toBeLessThan(sorted.sum);
    }
    expect(better).toBeGreaterThanOrEqual(4);
  });

  test("stopped at the first step there is a valid plan, and the bound holds", () => {
    const problem = instance(60, 2);
    const steps = allotSteps(problem, standardEffort);
    expect(steps.next().done).toBe(false);
    const stopped = steps.next("stop");
    if (!stopped.done || stopped.value.kind !== "plan") throw new Error("not stopped with a plan");
    expect(stopped.value.places).toHaveLength(57);
    expect(stopped.value.bound).toBeLessThanOrEqual(planFor(problem, worstOnly).worst);
  });
});

describe("what a plan says", () => {
  test("the worst of all is the worst of its space, and its pair has that weighted difference", () => {
    for (let seed = 1; seed <= 10; seed++) {
      const outcome = allot(smallJob(seed, 5));
      if (outcome.kind !== "plan") continue;
      expect(Math.max(...outcome.perSpace.map(({ worst }) => worst))).toBe(outcome.worst);
      expect(outcome.worstPair?.weighted ?? 0).toBe(outcome.worst);
    }
  });

  test("two faces that cannot be compared count as the stand-in and are counted", () => {
    const { problem } = plantedJob(1, 1, 2);
    const deltaE = problem.differences.deltaE.map((row, i) => row.map((value, j) => (i === j ? value : null)));
    const plan = planFor({ ...problem, differences: { ...problem.differences, deltaE } });
    expect(plan.notCompared).toBe(1);
    expect(plan.worst).toBe(10);
    expect(plan.worstPair?.deltaE).toBeNull();
  });
});

describe("too few leaves", () => {
  const { problem } = plantedJob(2, 2, 3);
  const short: AllotmentProblem = {
    ...problem,
    openings: problem.openings.map((opening, n) => (n < 2 ? { ...opening, spec: "narrow" } : opening)),
    leaves: problem.leaves.map((leaf, n) => (n === 0 ? { ...leaf, fits: { spec: "narrow" } } : leaf)),
  };

  test("the openings that compete, the leaves they compete for, and how many are missing", () => {
    const outcome = allot(short);
    if (outcome.kind !== "impossible") throw new Error(outcome.kind);
    expect(outcome.lacks).toEqual([{ openings: ["D01", "D02"], leaves: ["L01"], short: 1 }]);
    expect(outcome.openings.map(({ opening }) => opening)).toEqual(["D01", "D02"]);
    expect(outcome.openings[0]?.lacks).toBe("1 leaf of narrow: only L01 can hang in D01, D02");
  });

  test("an opening of a spec no leaf has is named", () => {
    const outcome = allot({
      ...problem,
      openings: problem.openings.map((opening, n) => (n === 3 ? { ...opening, spec: "round" } : opening)),
    });
    if (outcome.kind !== "impossible") throw new Error(outcome.kind);
    expect(outcome.openings).toEqual([{ opening: "D04", lacks: "1 leaf of round: no leaf can hang there" }]);
  });

  test("the opening that may stay empty stays empty, the first named first", () => {
    const plan = planFor({ ...short, mayStayEmpty: ["D02", "D01"] });
    expect(plan.empty).toEqual([{ opening: "D02", place: 0 }]);
    expect(planFor({ ...short, mayStayEmpty: ["D01", "D02"] }).empty).toEqual([{ opening: "D01", place: 0 }]);
    expect(planFor({ ...problem, mayStayEmpty: ["D01", "D02"] }).empty).toEqual([]);
  });
});
