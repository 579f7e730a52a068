import { expect, test } from "vitest";
import type { AllotmentProblem, Leaf } from "../../../analysis/allot/allotment.ts";
import { layOut } from "../../../analysis/allot/board.ts";
import { canAllMeet, pooledCouples } from "../../../analysis/allot/couples.ts";
import { domainsAt, limitAt } from "../../../analysis/allot/limit.ts";

/** Two pairs of one spec into one hall, a pair of another spec, and leaves of which only some go together: 1, else 5. */
const job = (together: readonly (readonly [number, number])[]): AllotmentProblem => {
  const leaves = ["wide", "wide", "wide", "wide", "narrow", "narrow"].map((spec, n): Leaf => {
    const face = (name: "A" | "B") => ({ id: `L${n}/${name}`, lightness: null });
    return { id: `L${n}`, fits: { spec }, faces: { A: face("A"), B: face("B") }, mayTurn: false, state: "free" };
  });
  const goes = (i: number, j: number) =>
    together.some(([one, other]) => (one === i && other === j) || (one === j && other === i));
  return {
    leaves,
    openings: [
      { id: "D1", spec: "wide", leaves: 2, spaces: ["hall", null] },
      { id: "D2", spec: "wide", leaves: 2, spaces: ["hall", null] },
      { id: "D3", spec: "narrow", leaves: 2, spaces: ["hall", null] },
    ],
    spaces: [{ id: "hall", weight: 0 }],
    existing: [],
    locks: [],
    bans: [],
    differences: {
      faces: leaves.flatMap(({ faces }) => [faces.A.id, faces.B.id]),
      deltaE: Array.from({ length: 12 }, (_, i) =>
        Array.from({ length: 12 }, (__, j) => (i === j ? 0 : goes(i >>> 1, j >>> 1) ? 1 : 5)),
      ),
    },
    meetingWeight: 1,
    notComparedAs: 10,
    mayStayEmpty: [],
  };
};

const poolsMeet = (together: readonly (readonly [number, number])[]): boolean[] => {
  const board = layOut(job(together));
  const sets = domainsAt(board, 2);
  return pooledCouples(board, sets).map((pool) => canAllMeet(board, limitAt(board, 2), sets, pool, { left: 1e6 }));
};

test("couples that share leaves are one pool, those of another spec one of their own", () => {
  const board = layOut(job([]));
  const pools = pooledCouples(board, board.domains);
  expect(new Set(pools.map((pool) => pool.length))).toEqual(new Set([1, 2]));
});

test("a star of three is one pair only, and two pairs are asked for; with one more pair among its points both can be made", () => {
  const star = [
    [0, 1],
    [0, 2],
    [0, 3],
    [4, 5],
  ] as const;
  expect(poolsMeet(star)).toContain(false);
  expect(poolsMeet([...star, [1, 2]])).toEqual([true, true]);
});

test("a pool is judged by its own leaves: two pairs of the one spec, none of the other", () => {
  const told = poolsMeet([
    [0, 1],
    [2, 3],
  ]);
  expect(new Set(told)).toEqual(new Set([false, true]));
});
