import { expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import type { AllotmentProblem } from "../../../analysis/allot/allotment.ts";
import { independentGroups } from "../../../analysis/allot/independent-groups.ts";

/** Lightness of the faces: two walnut leaves far apart that must hang together, four ash leaves that can be paired well. */
const lightness: Record<string, number> = { W1: 40, W2: 50, A1: 70, A2: 70.5, A3: 74, A4: 74.5 };
const faces = Object.keys(lightness).flatMap((leaf) => [`${leaf}/A`, `${leaf}/B`]);
const of = (face: string) => lightness[face.slice(0, 2)] ?? 0;

const problem: AllotmentProblem = {
  leaves: Object.keys(lightness).map((id) => ({
    id,
    fits: { spec: id.startsWith("W") ? "walnut" : "ash" },
    faces: { A: { id: `${id}/A`, lightness: of(`${id}/A`) }, B: { id: `${id}/B`, lightness: of(`${id}/B`) } },
    mayTurn: true,
    state: "free",
  })),
  openings: [
    { id: "1", spec: "walnut", leaves: 1, spaces: ["Hall", null] },
    { id: "2", spec: "walnut", leaves: 1, spaces: ["Hall", null] },
    { id: "3", spec: "ash", leaves: 1, spaces: ["North", null] },
    { id: "4", spec: "ash", leaves: 1, spaces: ["North", null] },
    { id: "5", spec: "ash", leaves: 1, spaces: ["South", null] },
    { id: "6", spec: "ash", leaves: 1, spaces: ["South", null] },
  ],
  spaces: ["Hall", "North", "South"].map((id) => ({ id, weight: 1 })),
  existing: [],
  locks: [{ leaf: "A1", opening: "3" }],
  bans: [{ leaf: "W1", space: "South" }],
  differences: { faces, deltaE: faces.map((a) => faces.map((b) => Math.abs(of(a) - of(b)))) },
  meetingWeight: 1,
  notComparedAs: 20,
  mayStayEmpty: [],
};

test("walnut and ash have nothing to do with each other; leaves, spaces and locks go with their group", () => {
  const groups = independentGroups(problem);
  expect(groups.map(({ leaves }) => leaves.map(({ id }) => id))).toEqual([
    ["W1", "W2"],
    ["A1", "A2", "A3", "A4"],
  ]);
  expect(groups.map(({ spaces }) => spaces.map(({ id }) => id))).toEqual([["Hall"], ["North", "South"]]);
  expect(groups.map(({ locks }) => locks.length)).toEqual([0, 1]);
});

test("a worst that is forced in one group leaves the others as good as they can be", () => {
  const plan = allot(problem);
  expect(plan).toMatchObject({ kind: "plan", worst: 10, bound: 10, proven: true });
  if (plan.kind !== "plan") return;
  expect(plan.perSpace.map(({ space, worst }) => [space, worst])).toEqual([
    ["Hall", 10],
    ["North", 0.5],
    ["South", 0.5],
  ]);
  expect(plan.places.find(({ leaf }) => leaf === "A1")?.opening).toBe("3");
});
