import { describe, expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import type { AllotmentProblem } from "../../../analysis/allot/allotment.ts";
import { type Sureness, withinUncertainty } from "../../../analysis/allot/within-uncertainty.ts";
import { wishfulJob } from "./small-jobs.ts";

type Table = readonly (readonly number[])[];

/** Leaves L1, L2 ... whose two faces look alike, in openings D1, D2 ... of the rooms named; differences and half-widths between leaves. */
const jobOf = (rooms: readonly string[], deltaE: Table, u95: Table, spares = 0): AllotmentProblem => {
  const ids = [...rooms.keys(), ...Array.from({ length: spares }, (_, n) => rooms.length + n)].map((n) => `L${n + 1}`);
  const twice = (table: Table) => table.flatMap((row) => [0, 1].map(() => row.flatMap((value) => [value, value])));
  return {
    leaves: ids.map((id) => ({
      id,
      fits: { spec: "wide" },
      faces: { A: { id: `${id}/A`, lightness: null }, B: { id: `${id}/B`, lightness: null } },
      mayTurn: false,
      state: "free",
    })),
    openings: rooms.map((room, n) => ({ id: `D${n + 1}`, spec: "wide", leaves: 1, spaces: [room, null] })),
    spaces: [...new Set(rooms)].map((id) => ({ id, weight: 1 })),
    existing: [],
    locks: [],
    bans: [],
    differences: { faces: ids.flatMap((id) => [`${id}/A`, `${id}/B`]), deltaE: twice(deltaE), u95: twice(u95) },
    meetingWeight: 1,
    notComparedAs: 10,
    mayStayEmpty: [],
  };
};

const hungInOrder = (problem: AllotmentProblem) =>
  problem.openings.map(({ id }, n) => ({ opening: id, place: 0 as const, leaf: `L${n + 1}`, turned: false }));

const sureness = (problem: AllotmentProblem, tolerance: number, places = hungInOrder(problem)): Sureness => {
  const outcome = withinUncertainty(problem, places, tolerance);
  if (outcome.kind !== "sureness") throw new Error(outcome.why);
  return outcome;
};

/** Two leaves each in three rooms: 1 +- 0.5, 2.2 +- 0.9 and 5 +- 1 apart; 4 +- 1 between rooms. */
const threeRooms = () => {
  const within = [
    [1, 0.5],
    [2.2, 0.9],
    [5, 1],
  ] as const;
  const table = (apart: number, at: 0 | 1) =>
    Array.from({ length: 6 }, (_, i) =>
      Array.from({ length: 6 }, (__, j) => (i === j ? 0 : i >> 1 === j >> 1 ? within[i >> 1]![at] : apart)),
    );
  return jobOf(["hall", "hall", "landing", "landing", "store", "store"], table(4, 0), table(1, 1));
};

describe("withinUncertainty", () => {
  test("a space is inside, over or open by how small and how large its differences can be", () => {
    const { spaces } = sureness(threeRooms(), 2.5);
    expect(spaces).toEqual([
      { space: "hall", worst: 1, low: 0.5, high: 1.5, sure: "inside" },
      { space: "landing", worst: 2.2, low: expect.closeTo(1.3, 9), high: expect.closeTo(3.1, 9), sure: "open" },
      { space: "store", worst: 5, low: 4, high: 6, sure: "over" },
    ]);
  });

  test("weights count; a pair that was not compared lies between nothing and its stand-in; marks stay as they are", () => {
    const problem = threeRooms();
    const row = problem.differences.faces.indexOf("L1/A");
    const column = problem.differences.faces.indexOf("L2/A");
    const deltaE = problem.differences.deltaE.map((values, i) =>
      values.map((value, j) => ((i === row && j === column) || (i === column && j === row) ? null : value)),
    );
    const [first, ...others] = problem.leaves;
    const { spaces } = sureness(
      {
        ...problem,
        leaves: [{ ...first!, faces: { ...first!.faces, A: { ...first!.faces.A, mark: 0.8 } } }, ...others],
        spaces: problem.spaces.map((space) => ({ ...space, weight: 0.5 })),
        differences: { ...problem.differences, deltaE },
      },
      2.5,
    );
    expect(spaces).toEqual([
      { space: "hall", worst: 5, low: 0.8, high: 5, sure: "open" },
      { space: "landing", worst: 1.1, low: expect.closeTo(0.65, 9), high: expect.closeTo(1.55, 9), sure: "inside" },
      { space: "store", worst: 2.5, low: 2, high: 3, sure: "open" },
    ]);
  });

  test("a leaf goes back when one must at the smallest differences, stays when none need at the largest", () => {
    const apart = (own: number) => [
      [0, 1, own],
      [1, 0, own],
      [own, own, 0],
    ];
    const half = (u95: number) => [
      [0, 0.2, u95],
      [0.2, 0, u95],
      [u95, u95, 0],
    ];
    const says = (own: number, u95: number) => {
      const { leaves } = sureness(jobOf(["hall", "hall", "hall"], apart(own), half(u95)), 2.5);
      return leaves.map(({ leaf, say }) => `${leaf} ${say}`);
    };
    expect(says(5, 1)).toEqual(["L1 keep", "L2 keep", "L3 return"]);
    expect(says(3, 1)).toEqual(["L1 keep", "L2 keep", "L3 measure-again"]);
    expect(says(2, 0.4)).toEqual(["L1 keep", "L2 keep", "L3 keep"]);
  });

  test("where held leaves pass the tolerance among themselves no leaf is said to stay", () => {
    const job = jobOf(
      ["hall", "hall"],
      [
        [0, 5],
        [5, 0],
      ],
      [
        [0.2, 0.2],
        [0.2, 0.2],
      ],
      0,
    );
    const locks = [
      { leaf: "L1", opening: "D1" },
      { leaf: "L2", opening: "D2" },
    ];
    const { leaves } = sureness({ ...job, locks }, 2.5);
    expect(leaves.map(({ leaf, say }) => `${leaf} ${say}`)).toEqual(["L1 measure-again", "L2 measure-again"]);
  });

  test("leaves that are as good in each other's place change nothing; those that are nearly so change in part of the redraws", () => {
    const halls = ["hall", "hall"];
    const same = Array.from({ length: 3 }, (_, i) => [0, 1, 2].map((j) => (i === j ? 0 : 2)));
    const sharp = same.map((row) => row.map(() => 0.001));
    expect(sureness(jobOf(halls, same, sharp, 1), 2.5).decisions).toEqual([]);
    const rough = same.map((row) => row.map(() => 1));
    const { decisions, redraws } = sureness(jobOf(halls, same, rough, 1), 2.5);
    expect(redraws).toBe(20);
    expect(decisions.length).toBeGreaterThan(0);
    for (const { share } of decisions) expect(share).toBeLessThan(1);
    const spareFarOff = [
      [0, 1, 9],
      [1, 0, 9],
      [9, 9, 0],
    ];
    expect(sureness(jobOf(halls, spareFarOff, rough, 1), 2.5).decisions).toEqual([]);
  });

  test("only what is unsure makes decisions unsure: where one leaf's faces carry all of it, leaves apart from it stay", () => {
    const deltaE = Array.from({ length: 6 }, (_, i) => [0, 1, 2, 3, 4, 5].map((j) => (i === j ? 0 : 2)));
    const u95 = deltaE.map((row, i) =>
      row.map((_, j) => (i === 0 && j === 0 ? Math.SQRT2 * 2 : i === 0 || j === 0 ? 2 : 0)),
    );
    const { decisions } = sureness(jobOf(["hall", "hall", "store", "store", "landing"], deltaE, u95, 1), 2.5);
    expect(decisions.length).toBeGreaterThan(0);
    const most = decisions[0]!;
    expect(["L1", "L2"]).toContain(most.leaf);
    expect(decisions.find(({ leaf }) => leaf === "L1")!.share).toBe(most.share);
    expect(decisions.filter(({ leaf }) => leaf === "L3" || leaf === "L4")).toEqual([]);
  });

  test("one photo of the two leaves of the open space settles it; no photo where none would, and none where nothing is open", () => {
    const problem = threeRooms();
    const { photo } = sureness(problem, 2.8);
    expect(photo).toEqual({ one: "L3/A", other: "L4/A", settles: 1 });
    expect(sureness(problem, 2.3).photo).toBeNull();
    expect(sureness(problem, 3.5).photo).toBeNull();
  });

  test("a photo with a face that is well known in one room settles what is open through it", () => {
    const table = (pair: number, others: number) =>
      Array.from({ length: 3 }, (_, i) => [0, 1, 2].map((j) => (i === j ? 0 : i === 2 || j === 2 ? pair : others)));
    const problem = jobOf(["hall", "hall", "hall"], table(2, 1), table(1.5, 0.3));
    expect(sureness(problem, 2.7).photo).toEqual({ one: "L1/A", other: "L3/A", settles: 1 });
  });

  test("the same answer again; locks are kept; any job with uncertainty is answered", () => {
    let answered = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const problem = wishfulJob(seed, 5);
      const plan = allot(problem);
      if (plan.kind !== "plan" || !problem.differences.u95) continue;
      const outcome = withinUncertainty(problem, plan.places, 3);
      expect(withinUncertainty(problem, plan.places, 3)).toEqual(outcome);
      if (outcome.kind !== "sureness") throw new Error(outcome.why);
      const turnable = new Set(problem.locks.filter(({ turned }) => turned !== undefined).map(({ leaf }) => leaf));
      expect(outcome.decisions.filter(({ leaf }) => turnable.has(leaf))).toEqual([]);
      for (const { low, worst, high } of outcome.spaces) {
        expect(low).toBeLessThanOrEqual(worst);
        expect(worst).toBeLessThanOrEqual(high);
      }
      answered++;
    }
    expect(answered).toBeGreaterThan(3);
  });

  test("refused without uncertainty, with a tolerance of nothing, or with a plan of other leaves", () => {
    const problem = threeRooms();
    const { faces, deltaE } = problem.differences;
    const places = hungInOrder(problem);
    expect(withinUncertainty({ ...problem, differences: { faces, deltaE } }, places, 2)).toMatchObject({
      kind: "refused",
    });
    expect(withinUncertainty(problem, places, 0)).toMatchObject({ kind: "refused" });
    expect(withinUncertainty(problem, [{ ...places[0]!, leaf: "L9" }], 2)).toEqual({
      kind: "refused",
      why: "the plan names leaf L9, which does not exist",
    });
  });
});
