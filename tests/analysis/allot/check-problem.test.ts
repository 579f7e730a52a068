import { expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import type { AllotmentProblem, Leaf, Opening, Space } from "../../../analysis/allot/allotment.ts";
import { plantedJob } from "./small-jobs.ts";

const { problem } = plantedJob(1, 2, 2);
const leaf = problem.leaves[0]!;
const withDifference = (i: number, j: number, value: number): AllotmentProblem => ({
  ...problem,
  differences: {
    ...problem.differences,
    deltaE: problem.differences.deltaE.map((row, at) => row.map((old, to) => (at === i && to === j ? value : old))),
  },
});

const withUncertainty = (value: number): AllotmentProblem => ({
  ...problem,
  differences: {
    ...problem.differences,
    u95: problem.differences.deltaE.map((row, i) => row.map((_, j) => (i === j ? 0 : value))),
  },
});
const inHall = (wish: Partial<Space>): AllotmentProblem => ({
  ...problem,
  spaces: problem.spaces.map((space) => (space.id === "hall 0" ? { ...space, ...wish } : space)),
});
const withLeaf = (facts: Partial<Leaf>): AllotmentProblem => ({
  ...problem,
  leaves: problem.leaves.map((one) => (one === leaf ? { ...one, ...facts } : one)),
});
const withOpening = (facts: Partial<Opening>): AllotmentProblem => ({
  ...problem,
  openings: problem.openings.map((one) => (one.id === "D01" ? { ...one, ...facts } : one)),
});

const faults: readonly (readonly [string, AllotmentProblem])[] = [
  ["leaf L01 stands twice", { ...problem, leaves: [...problem.leaves, leaf] }],
  ["opening D01 stands twice", { ...problem, openings: [...problem.openings, problem.openings[0]!] }],
  [
    "opening D01 names space attic, which does not exist",
    {
      ...problem,
      openings: problem.openings.map((one) => (one.id === "D01" ? { ...one, spaces: ["attic", null] } : one)),
    },
  ],
  ["a lock names leaf L99, which does not exist", { ...problem, locks: [{ leaf: "L99", opening: "D01" }] }],
  [
    "the lock of leaf L01 names opening D99, which does not exist",
    { ...problem, locks: [{ leaf: "L01", opening: "D99" }] },
  ],
  [
    "the ban of leaf L01 names space attic, which does not exist",
    { ...problem, bans: [{ leaf: "L01", space: "attic" }] },
  ],
  [
    "space hall 0 names opening or existing face D77, which does not exist",
    { ...problem, spaces: problem.spaces.map((one) => ({ ...one, pairs: [{ one: "D01", other: "D77", weight: 1 }] })) },
  ],
  ["face old has no row in the difference table", { ...problem, existing: [{ id: "old", space: "hall 0" }] }],
  ["the difference of L01/A and L02/B is NaN, not a number from 0 up", withDifference(0, 3, Number.NaN)],
  ["the difference of L01/A and L02/B is -1, not a number from 0 up", withDifference(0, 3, -1)],
  ["the difference of L01/A and L02/B depends on which comes first", withDifference(0, 3, 2)],
  [
    "a weight in space hall 0 is -1, not a number from 0 up",
    { ...problem, spaces: problem.spaces.map((one) => ({ ...one, weight: -1 })) },
  ],
  [
    "leaf L01 is locked to opening D01, but does not fit it (narrow; the opening asks for wide)",
    {
      ...problem,
      leaves: problem.leaves.map((one) => (one === leaf ? { ...one, fits: { spec: "narrow" } } : one)),
      locks: [{ leaf: "L01", opening: "D01" }],
    },
  ],
  [
    "leaf L01 is locked to opening D01, but it is out",
    {
      ...problem,
      leaves: problem.leaves.map((one) => (one === leaf ? { ...one, state: "out" } : one)),
      locks: [{ leaf: "L01", opening: "D01" }],
    },
  ],
  [
    "leaf L01 is locked to opening D01 turned, but may not turn",
    {
      ...problem,
      leaves: problem.leaves.map((one) => (one === leaf ? { ...one, mayTurn: false } : one)),
      locks: [{ leaf: "L01", opening: "D01", turned: true }],
    },
  ],
  [
    "leaf L01 is locked to opening D01, place 1, but the opening takes one leaf",
    { ...problem, locks: [{ leaf: "L01", opening: "D01", place: 1 }] },
  ],
  [
    "leaf L02 is locked to opening D01, but so is L01",
    {
      ...problem,
      locks: [
        { leaf: "L01", opening: "D01" },
        { leaf: "L02", opening: "D01" },
      ],
    },
  ],
  [
    "lock of leaf L01 stands twice",
    {
      ...problem,
      locks: [
        { leaf: "L01", opening: "D01" },
        { leaf: "L01", opening: "D02" },
      ],
    },
  ],
  [
    "the difference of L01/A and L02/B is Infinity, not a number from 0 up",
    withDifference(0, 3, Number.POSITIVE_INFINITY),
  ],
  ["the uncertainty of the difference of L01/A and L01/B is NaN, not a number from 0 up", withUncertainty(Number.NaN)],
  ["the uncertainty of the difference of L01/A and L01/B is -0.1, not a number from 0 up", withUncertainty(-0.1)],
  [
    "the uncertainty of the difference of L01/A and L01/A is missing",
    { ...problem, differences: { ...problem.differences, u95: [] } },
  ],
  ["the confidence is 1, not a number from 0.5 to below 1", { ...problem, confidence: 1 }],
  ["the confidence is NaN, not a number from 0.5 to below 1", { ...problem, confidence: Number.NaN }],
  ["the tolerance is -2, not a number from 0 up", { ...problem, tolerance: -2 }],
  ["the weight of the two leaves of a pair is NaN, not a number from 0 up", { ...problem, meetingWeight: Number.NaN }],
  [
    "the difference taken where faces cannot be compared is Infinity, not a number from 0 up",
    { ...problem, notComparedAs: Number.POSITIVE_INFINITY },
  ],
  [
    "the weight of faces across is -1, not a number from 0 up",
    { ...problem, sight: { beside: 1, across: -1, apart: 1 } },
  ],
  [
    "what a step back adds in space hall 0 is NaN, not a number from 0 up",
    inHall({ gentle: { goes: "lighter", stepBack: Number.NaN } }),
  ],
  [
    "what light beside dark adds in space hall 0 is -3, not a number from 0 up",
    inHall({ lightBesideDark: { average: 60, adds: -3 } }),
  ],
  ["how much marks count in space hall 0 is NaN, not a number from 0 up", inHall({ marksCount: Number.NaN })],
  ["on the walls of space hall 0: D01 stands twice", inHall({ walls: [["D01", "D02"], ["D01"]] })],
  [
    "a wall of space hall 0 names opening or existing face D77, which does not exist",
    inHall({ walls: [["D01", "D77"]] }),
  ],
  [
    "the mark of face L01/A is -1, not a number from 0 up",
    withLeaf({ faces: { ...leaf.faces, A: { ...leaf.faces.A, mark: -1 } } }),
  ],
  [
    "the lightness of face L01/A is NaN, not a number",
    withLeaf({ faces: { ...leaf.faces, A: { ...leaf.faces.A, lightness: Number.NaN } } }),
  ],
  ["the fire rating of leaf L01 is NaN, not a number from 0 up", withLeaf({ fireMinutes: Number.NaN })],
  [
    "leaf L01 is locked to opening D01, but does not fit it (0 minutes of fire; the opening asks for 30)",
    { ...withOpening({ fireMinutes: 30 }), locks: [{ leaf: "L01", opening: "D01" }] },
  ],
  [
    "leaf L01 is locked to opening D01, but does not fit it (hinged left; the opening is hinged right)",
    {
      ...withOpening({ hand: "right" }),
      leaves: withLeaf({ hand: "left" }).leaves,
      locks: [{ leaf: "L01", opening: "D01" }],
    },
  ],
  [
    "leaf L01 is locked to opening D01, but banned from space hall 0",
    { ...problem, locks: [{ leaf: "L01", opening: "D01" }], bans: [{ leaf: "L01", space: "hall 0" }] },
  ],
];

test.each(faults)("%s", (why, faulty) => {
  expect(allot(faulty)).toEqual({ kind: "refused", why });
});

test("the job itself is not refused", () => {
  expect(allot(problem).kind).toBe("plan");
});
