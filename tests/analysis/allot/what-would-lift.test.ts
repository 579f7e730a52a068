import { describe, expect, test } from "vitest";
import type { AllotmentProblem, LeafFace } from "../../../analysis/allot/allotment.ts";
import { type Lift, whatWouldLift } from "../../../analysis/allot/what-would-lift.ts";
import { bestOfEveryPlan } from "./every-plan.ts";
import { smallJob, wishfulJob } from "./small-jobs.ts";

const liftOf = (problem: AllotmentProblem) => {
  const outcome = whatWouldLift(problem);
  if (outcome.kind !== "lift") throw new Error(outcome.kind);
  return outcome;
};

/** Leaves of one size whose faces differ by their lightness, the same on both faces, and rooms of the openings named. */
const jobOf = (lightness: readonly number[], rooms: readonly (readonly string[])[]): AllotmentProblem => {
  const leaves = lightness.map((of, n) => {
    const face = (name: string): LeafFace => ({ id: `L${n + 1}/${name}`, lightness: of });
    return {
      id: `L${n + 1}`,
      fits: { spec: "wide" },
      faces: { A: face("A"), B: face("B") },
      mayTurn: true,
      state: "free" as const,
    };
  });
  const faces = leaves.flatMap((leaf) => [leaf.faces.A, leaf.faces.B]);
  return {
    leaves,
    openings: rooms.flatMap((doors, n) =>
      doors.map((id) => ({ id, spec: "wide", leaves: 1 as const, spaces: [`room ${n + 1}`, null] as const })),
    ),
    spaces: rooms.map((_, n) => ({ id: `room ${n + 1}`, weight: 1 })),
    existing: [],
    locks: [],
    bans: [],
    differences: {
      faces: faces.map(({ id }) => id),
      deltaE: faces.map((one) => faces.map((other) => Math.abs(one.lightness! - other.lightness!))),
    },
    meetingWeight: 1,
    notComparedAs: 10,
    mayStayEmpty: [],
  };
};

/** The job when these faces differ from none, written without the code that is tested. */
const unseen = (problem: AllotmentProblem, ids: readonly string[]): AllotmentProblem => {
  const { faces, deltaE, u95 } = problem.differences;
  const nothing = (table: readonly (readonly (number | null)[])[]) =>
    table.map((row, i) => row.map((value, j) => (ids.includes(faces[i]!) || ids.includes(faces[j]!) ? 0 : value)));
  const plain = (face: LeafFace): LeafFace => (ids.includes(face.id) ? { id: face.id, lightness: null } : face);
  return {
    ...problem,
    leaves: problem.leaves.map((leaf) => ({ ...leaf, faces: { A: plain(leaf.faces.A), B: plain(leaf.faces.B) } })),
    existing: problem.existing.map((face) => (ids.includes(face.id) ? { ...face, lightness: null } : face)),
    differences: { faces, deltaE: nothing(deltaE), ...(u95 ? { u95: nothing(u95) } : {}) },
  };
};

const facesOf = (problem: AllotmentProblem, leaf: string): string[] => {
  const { A, B } = problem.leaves.find(({ id }) => id === leaf)!.faces;
  return [A.id, B.id];
};

describe("whatWouldLift", () => {
  test("names each leaf, existing face, lock and ban that lowers the worst of every plan, and no other", () => {
    const named = new Set<string>();
    for (let seed = 1; seed <= 36; seed++) {
      const problem = seed % 2 ? smallJob(seed, 4) : wishfulJob(seed, 4);
      const outcome = whatWouldLift(problem);
      const best = bestOfEveryPlan(problem);
      if (outcome.kind !== "lift") {
        expect(best).toBeNull();
        continue;
      }
      expect(outcome.worst).toBeCloseTo(best!.worst, 6);
      const seats = outcome.pair ? [outcome.pair.one, outcome.pair.other] : [];
      const pairLeaves = [...new Set(seats.flatMap((seat) => (seat.kind === "leaf" ? [seat.leaf] : [])))];
      const { locks, bans, existing } = problem;
      const trials: (readonly [object, AllotmentProblem])[] = [
        ...pairLeaves.map((leaf) => [{ by: "other-leaf", leaf }, unseen(problem, facesOf(problem, leaf))] as const),
        ...existing.map(({ id }) => [{ by: "other-existing", existing: id }, unseen(problem, [id])] as const),
        ...locks.map(
          (lock) =>
            [
              { by: "let-go", lock },
              { ...problem, locks: locks.filter((one) => one !== lock) },
            ] as const,
        ),
        ...bans.map(
          (ban) =>
            [
              { by: "let-in", ban },
              { ...problem, bans: bans.filter((one) => one !== ban) },
            ] as const,
        ),
      ];
      for (const [by, changed] of trials) {
        const { worst } = bestOfEveryPlan(changed)!;
        const lift = outcome.lifts.find((one) =>
          Object.entries(by).every(([key, value]) => one[key as "by"] === value),
        );
        if (worst >= best!.worst - 0.05) expect(lift).toBeUndefined();
        else {
          expect(lift?.worst).toBeCloseTo(worst, 6);
          expect(lift?.bound).toBeCloseTo(worst, 6);
          named.add(lift!.by);
        }
      }
      for (const lift of outcome.lifts) if (lift.by === "one-more-like") named.add(lift.by);
      expect(outcome.lifts.map(({ worst }) => worst)).toEqual(
        outcome.lifts.map(({ worst }) => worst).toSorted((a, b) => a - b),
      );
    }
    expect([...named].toSorted()).toEqual(["let-go", "let-in", "one-more-like", "other-existing", "other-leaf"]);
  });

  test("one leaf apart from three alike: another in its place, or one more like the three", () => {
    const { worst, bound, pair, lifts } = liftOf(jobOf([60, 60.03, 60.02, 66], [["D1", "D2", "D3", "D4"]]));
    expect([worst, bound]).toEqual([6, 6]);
    expect(pair).toMatchObject({ space: "room 1", weighted: 6 });
    const by = (kind: Lift["by"]) => lifts.filter((one) => one.by === kind);
    expect(by("other-leaf")).toHaveLength(1);
    expect(by("other-leaf")[0]).toMatchObject({ leaf: "L4", bound: expect.closeTo(0.03, 9) });
    expect(by("one-more-like")[0]!.worst).toBeCloseTo(0.03, 9);
  });

  test("nothing single helps where two rooms are as bad by themselves", () => {
    const problem = jobOf(
      [60, 66, 60, 66],
      [
        ["D1", "D2"],
        ["D3", "D4"],
      ],
    );
    const locks = ["L1", "L2", "L3", "L4"].map((leaf, n) => ({ leaf, opening: `D${n + 1}` }));
    expect(liftOf({ ...problem, locks })).toMatchObject({ worst: 6, lifts: [] });
  });

  test("a lock that keeps two apart is let go; a ban that does is lifted; what binds nothing is not named", () => {
    const problem = jobOf(
      [60, 60, 66, 66],
      [
        ["D1", "D2"],
        ["D3", "D4"],
      ],
    );
    const lock = { leaf: "L1", opening: "D1" };
    const other = { leaf: "L3", opening: "D2" };
    const locked = liftOf({ ...problem, locks: [lock, other] });
    expect(locked.lifts.filter(({ by }) => by === "let-go")).toEqual([
      { by: "let-go", lock, worst: 0, bound: 0 },
      { by: "let-go", lock: other, worst: 0, bound: 0 },
    ]);
    const ban = { leaf: "L2", space: "room 1" };
    expect(liftOf({ ...problem, locks: [lock], bans: [ban] }).lifts).toContainEqual({
      by: "let-in",
      ban,
      worst: 0,
      bound: 0,
    });
    expect(liftOf({ ...problem, locks: [lock] }).lifts).toEqual([]);
  });

  test("a problem that cannot be planned is answered as the plan is", () => {
    const problem = jobOf([60], [["D1", "D2"]]);
    expect(whatWouldLift(problem).kind).toBe("impossible");
    expect(whatWouldLift({ ...problem, locks: [{ leaf: "L9", opening: "D1" }] })).toMatchObject({ kind: "refused" });
  });
});
