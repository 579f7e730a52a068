import { describe, expect, test } from "vitest";
import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import { allot } from "../../../analysis/allot/allot.ts";
import type { AllotmentProblem, LeafFace } from "../../../analysis/allot/allotment.ts";
import { instance } from "../../bench/allotment-instances.ts";
import { seenCosts } from "./seen-costs.ts";
import { solveByOthers } from "./solver-by-others.ts";
import { thresholdModel } from "./threshold-model.ts";

/** Whether a solver by others finds a plan in which nothing counts for more than `most`, or proves that there is none. */
const byOthers = (problem: AllotmentProblem, most: number) =>
  solveByOthers(thresholdModel(seenCosts(problem), most), { presolve: false }).ended;

/** The job with everything that weighs: uncertainty, marks, walls, gentle runs, light beside dark, an existing face, a ban. */
const dressed = (problem: AllotmentProblem, seed: number): AllotmentProblem => {
  const draw = uniformFrom(seed);
  const marked = (face: LeafFace): LeafFace => (draw() < 0.2 ? { ...face, mark: 4 * draw() } : face);
  const seats = (space: string) => problem.openings.filter(({ spaces }) => spaces.includes(space)).map(({ id }) => id);
  const hall = problem.spaces[0]!.id;
  const faces = [...problem.differences.faces, "old"];
  const old = problem.differences.faces.map(() => 3 * draw());
  const u95 = faces.map(() => faces.map(() => 0));
  for (const [i, row] of u95.entries()) for (let j = 0; j < i; j++) row[j] = u95[j]![i] = 0.2 + 0.6 * draw();
  return {
    ...problem,
    leaves: problem.leaves.map((leaf) => ({ ...leaf, faces: { A: marked(leaf.faces.A), B: marked(leaf.faces.B) } })),
    spaces: problem.spaces.map((space, n) => ({
      ...space,
      walls: [seats(space.id).filter((_, at) => at % 3 !== 2), seats(space.id).filter((_, at) => at % 3 === 2)],
      ...(n % 2 === 0
        ? { gentle: { goes: draw() < 0.5 ? "lighter" : "darker", stepBack: 0.5 } }
        : { lightBesideDark: { average: 66, adds: 1 } }),
      marksCount: n % 3 === 0 ? 0.5 : 1,
    })),
    existing: [{ id: "old", space: hall, lightness: 66 }],
    bans: [
      { leaf: problem.leaves[0]!.id, space: hall, face: "A" },
      { leaf: problem.leaves[1]!.id, opening: problem.openings[0]!.id },
    ],
    differences: {
      faces,
      deltaE: [...problem.differences.deltaE.map((row, i) => [...row, old[i]!]), [...old, 0]],
      u95,
    },
    sight: { beside: 1, across: 0.8, apart: 0.6 },
  };
};

const jobs = [6, 11, 24].flatMap((leaves) =>
  (leaves === 24 ? [1, 2, 3] : [1, 2, 3, 4, 5, 6]).flatMap((seed) => {
    const plain = instance(leaves, seed);
    return [
      { what: `${leaves} leaves, job ${seed}`, problem: plain },
      { what: `${leaves} leaves, job ${seed} with everything that weighs`, problem: dressed(plain, seed) },
    ];
  }),
);

describe("a solver by others proves the same worst", () => {
  test.each(jobs)("$what", ({ problem }) => {
    const plan = allot(problem);
    if (plan.kind === "impossible") return expect(byOthers(problem, Number.POSITIVE_INFINITY)).toBe("no solution");
    if (plan.kind === "refused") throw new Error(plan.why);
    expect(plan.proven).toBe(true);
    expect(byOthers(problem, plan.worst + 1e-9)).toBe("solved");
    expect(byOthers(problem, plan.worst - 1e-9)).toBe("no solution");
  });
});
