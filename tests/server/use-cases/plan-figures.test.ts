import { expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import type { AllotmentProblem, Plan } from "../../../analysis/allot/allotment.ts";
import { figuresOf, settledIn, togetherIn } from "../../../server/use-cases/plan-figures.ts";
import { aDelivery } from "../../support/leaves.ts";

const names = ["W01/A", "W01/B", "W02/A", "W02/B"];
const face = (id: string, mark: number) => ({ id, lightness: 60, ...(mark > 0 && { mark }) });

/** Two leaves in a corridor that differ by 3 on every face, known to within 0.6; a mark on both faces of W01. */
const problem = (mark: number, known = true): AllotmentProblem => ({
  leaves: ["W01", "W02"].map((id) => ({
    id,
    fits: { spec: "oak" },
    faces: { A: face(`${id}/A`, id === "W01" ? mark : 0), B: face(`${id}/B`, id === "W01" ? mark : 0) },
    mayTurn: true,
    state: "free",
  })),
  openings: ["1.01", "1.02"].map((id) => ({ id, spec: "oak", leaves: 1, spaces: ["CORRIDOR", null] })),
  spaces: [{ id: "CORRIDOR", weight: 2 }],
  existing: [],
  locks: [],
  bans: [],
  differences: {
    faces: names,
    deltaE: names.map((one) => names.map((other) => (one === other ? 0 : known ? 3 : null))),
    u95: names.map((one) => names.map((other) => (one === other ? 0 : known ? 0.6 : null))),
  },
  confidence: 0.975,
  meetingWeight: 1,
  notComparedAs: 2,
  mayStayEmpty: [],
});
const planOf = (asked: AllotmentProblem): Plan => {
  const plan = allot(asked);
  if (plan.kind !== "plan") throw new Error("no plan");
  return plan;
};
const figures = (asked: AllotmentProblem) => {
  const plan = planOf(asked);
  return figuresOf(plan, { dealt: plan, byEye: plan }, asked, aDelivery({}));
};

test("differences count with what the confidence asks for more, times the weight; 0.975 one-sided is the whole 95 % half-width", () => {
  const { plan, bound, proven, settled, forcedBy, pair } = figures(problem(0));
  expect(plan).toEqual({ worst: 7.2, mean: 7.2, spacesOver: 1 });
  expect([bound, proven, settled]).toEqual([7.2, true, [7.2]]);
  expect(forcedBy).toMatch(/^CORRIDOR: W0\d face [AB] at 1\.0\d with W0\d face [AB] at 1\.0\d\.$/);
  expect(pair?.space).toBe("CORRIDOR");
});

test("a mark that counts most is named as what forces the worst, and passes no space's tolerance by itself", () => {
  const { plan, forcedBy } = figures(problem(9));
  expect(plan).toEqual({ worst: 9, mean: 7.2, spacesOver: 1 });
  expect(forcedBy).toMatch(/^CORRIDOR: the accepted mark on W01 face [AB] at 1\.0\d\.$/);
});

test("what could not be compared counts for nothing, and no bound is claimed", () => {
  const { plan, bound, proven, forcedBy } = figures(problem(0, false));
  expect(plan).toEqual({ worst: 0, mean: 0, spacesOver: 0 });
  expect([bound, proven]).toEqual([0, false]);
  expect(forcedBy).toBe("1 pair of faces could not be compared.");
});

test("proven differences of all groups stand in one list, the largest first", () => {
  const plan = {
    ...planOf(problem(0)),
    settled: [
      [{ worst: 2, bound: 2 }],
      [
        { worst: 5, bound: 5 },
        { worst: 1, bound: 0 },
      ],
    ],
  };
  expect(settledIn(plan)).toEqual([5, 2]);
  expect(settledIn({ ...plan, notCompared: 1 })).toEqual([]);
  expect(togetherIn(plan, problem(0), 8).spacesOver).toBe(0);
});
