import { expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import type { AllotmentProblem } from "../../../analysis/allot/allotment.ts";
import { differencesInSpace, seenDifferences, worstSeen } from "../../../analysis/allot/seen-differences.ts";
import { smallJob } from "./small-jobs.ts";

const face = (id: string) => ({ id, lightness: null });

/** A pair between hall and room, one leaf between hall and nothing, an old face in the room. */
const job: AllotmentProblem = {
  leaves: ["L1", "L2", "L3"].map((id) => ({
    id,
    fits: { spec: "wide" },
    faces: { A: face(`${id}/A`), B: face(`${id}/B`) },
    mayTurn: true,
    state: "free",
  })),
  openings: [
    { id: "D1", spec: "wide", leaves: 2, spaces: ["hall", "room"] },
    { id: "D2", spec: "wide", leaves: 1, spaces: ["hall", null] },
  ],
  spaces: [
    { id: "hall", weight: 1, pairs: [{ one: "D1", other: "D2", weight: 0.5 }] },
    { id: "room", weight: 1 },
  ],
  existing: [{ id: "old", space: "room" }],
  locks: [],
  bans: [],
  differences: {
    faces: ["L1/A", "L1/B", "L2/A", "L2/B", "L3/A", "L3/B", "old"],
    deltaE: Array.from({ length: 7 }, (_, i) => Array.from({ length: 7 }, (__, j) => (i === j ? 0 : i + j))),
  },
  meetingWeight: 1.5,
  notComparedAs: 10,
  mayStayEmpty: [],
};

const arrangement = [
  { opening: "D1", place: 0, leaf: "L1", turned: false },
  { opening: "D1", place: 1, leaf: "L2", turned: true },
  { opening: "D2", place: 0, leaf: "L3", turned: false },
] as const;

test("each pair once, in its space, with its weight: worked by hand", () => {
  const told = seenDifferences(job, arrangement).map(({ space, deltaE, weight, weighted }) => [
    space,
    deltaE,
    weight,
    weighted,
  ]);
  // hall: L1/A (0), L2/B (3), L3/A (4); room: L1/B (1), L2/A (2), old (6). The table gives i + j.
  expect(told).toEqual([
    ["hall", 3, 1.5, 4.5],
    ["hall", 4, 0.5, 2],
    ["hall", 7, 0.5, 3.5],
    ["room", 3, 1.5, 4.5],
    ["room", 7, 1, 7],
    ["room", 8, 1, 8],
  ]);
});

test("the table of a space starts with its worst pair", () => {
  expect(differencesInSpace(job, arrangement, "hall").map(({ weighted }) => weighted)).toEqual([4.5, 3.5, 2]);
  expect(worstSeen(seenDifferences(job, arrangement))).toMatchObject({
    other: { kind: "existing", id: "old" },
    weighted: 8,
  });
  expect(worstSeen([])).toBeNull();
});

test("the worst and the sum of a plan are those of its seen pairs", () => {
  for (let seed = 1; seed <= 20; seed++) {
    const problem = smallJob(seed, 5);
    const plan = allot(problem);
    if (plan.kind !== "plan") continue;
    const weighted = seenDifferences(problem, plan.places).map((seen) => seen.weighted);
    expect(Math.max(0, ...weighted)).toBe(plan.worst);
    expect(weighted.reduce((a, b) => a + b, 0)).toBeCloseTo(plan.sum, 9);
  }
});
