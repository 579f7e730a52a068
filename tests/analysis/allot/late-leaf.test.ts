import { describe, expect, test } from "vitest";
import type { AllotmentProblem, Opening } from "../../../analysis/allot/allotment.ts";
import { lateLeaf } from "../../../analysis/allot/late-leaf.ts";
import { bestOfEveryPlan } from "./every-plan.ts";
import { plantedJob, smallJob } from "./small-jobs.ts";

/** The best plan that leaves one place empty, of those the leaf could take, by trying every one. */
const bestWithout = (problem: AllotmentProblem, late: string): number => {
  const leaf = problem.leaves.find(({ id }) => id === late)!;
  const others = { ...problem, leaves: problem.leaves.filter(({ id }) => id !== late) };
  const worsts = problem.openings.flatMap((opening, at) => {
    const fits = "spec" in leaf.fits ? leaf.fits.spec === opening.spec : leaf.fits.openings.includes(opening.id);
    if (!fits) return [];
    const left: Opening[] = opening.leaves === 2 ? [{ ...opening, leaves: 1 }] : [];
    const openings = [...problem.openings.slice(0, at), ...left, ...problem.openings.slice(at + 1)];
    const best = bestOfEveryPlan({ ...others, openings });
    return best ? [best.worst] : [];
  });
  return Math.min(...worsts);
};

describe("lateLeaf", () => {
  test("leaves the opening empty that trying each of them finds, on small jobs without spares", () => {
    let asked = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const known = { ...smallJob(seed, 5), locks: [], bans: [] };
      const late = known.leaves.at(-1)!.id;
      const u95 = known.differences.faces.map((one) =>
        known.differences.faces.map((other) => (one.startsWith(late) || other.startsWith(late) ? 4 : 0.5)),
      );
      const job = seed % 2 === 0 ? known : { ...known, differences: { ...known.differences, u95 } };
      const outcome = lateLeaf(job, late);
      if (outcome.kind !== "late") continue;
      asked++;
      expect(outcome.unseen.meanwhile, `seed ${seed}`).toBeCloseTo(bestWithout(job, late), 6);
      expect(outcome.unseen.places.map(({ leaf }) => leaf)).not.toContain(late);
      if (outcome.counted) expect(outcome.counted.afterwards).toBeCloseTo(bestOfEveryPlan(job)!.worst, 6);
    }
    expect(asked).toBeGreaterThan(10);
  });

  test("a spare fills in: no opening waits", () => {
    const { problem } = plantedJob(1, 2, 2);
    const spare = { ...problem.leaves[0]!, id: "S", faces: problem.leaves[0]!.faces };
    const faces = { A: { id: "S/A", lightness: 50 }, B: { id: "S/B", lightness: 50 } };
    const { differences } = problem;
    const deltaE = differences.deltaE.map((row) => [...row, 1, 1]);
    deltaE.push([...differences.faces.map(() => 1), 0, 1], [...differences.faces.map(() => 1), 1, 0]);
    const job = {
      ...problem,
      leaves: [...problem.leaves, { ...spare, faces }],
      differences: { faces: [...differences.faces, "S/A", "S/B"], deltaE },
    };
    expect(lateLeaf(job, "L02")).toMatchObject({ kind: "not-needed" });
  });

  test("only the openings asked about wait; a leaf never compared counts on nothing", () => {
    const { problem } = plantedJob(1, 2, 2);
    const outcome = lateLeaf(problem, "L01", ["D03"]);
    if (outcome.kind !== "late") throw new Error(outcome.kind);
    expect(outcome.unseen.opening).toBe("D03");
    const unmeasured = problem.differences.deltaE.map((row, i) =>
      row.map((value, j) => (i < 2 || j < 2 ? null : value)),
    );
    expect(lateLeaf({ ...problem, differences: { ...problem.differences, deltaE: unmeasured } }, "L01")).toMatchObject({
      kind: "late",
      counted: null,
    });
  });

  test("refused, by name: an unknown leaf, an unknown opening, a leaf that fits none", () => {
    const { problem } = plantedJob(1, 1, 2);
    expect(lateLeaf(problem, "L09")).toEqual({ kind: "refused", why: "leaf L09 does not exist" });
    expect(lateLeaf(problem, "L01", ["D09"])).toEqual({ kind: "refused", why: "opening D09 does not exist" });
    expect(lateLeaf(problem, "L01", [])).toEqual({
      kind: "refused",
      why: "leaf L01 fits none of the openings asked about",
    });
  });
});
