import { expect, test } from "vitest";
import { alikePlaces } from "../../../analysis/allot/alike-places.ts";
import { layOut, sumOf, worstOf } from "../../../analysis/allot/board.ts";
import { has, valuesOf } from "../../../analysis/allot/value-sets.ts";
import { plantedJob, wishfulJob } from "./small-jobs.ts";

test("openings that only look into one hall are alike, and none of two halls are", () => {
  const board = layOut(plantedJob(1, 2, 3).problem);
  expect(alikePlaces(board)).toEqual([
    [0, 1, 2],
    [0, 1, 2],
    [0, 1, 2],
    [3, 4, 5],
    [3, 4, 5],
    [3, 4, 5],
  ]);
});

test("a lock, a mark's space, a wall or a second space sets an opening apart", () => {
  const { problem } = plantedJob(1, 1, 4);
  const sizes = (changed: Partial<typeof problem>): number[] =>
    alikePlaces(layOut({ ...problem, ...changed })).map((group) => group.length);
  expect(sizes({})).toEqual([4, 4, 4, 4]);
  expect(sizes({ locks: [{ leaf: "L02", opening: "D02" }] })).toEqual([3, 1, 3, 3]);
  expect(sizes({ bans: [{ leaf: "L03", opening: "D04" }] })).toEqual([3, 3, 3, 1]);
  const walls = {
    sight: { beside: 2, across: 1, apart: 1 },
    spaces: [{ ...problem.spaces[0]!, walls: [["D01", "D02"]] }],
  };
  expect(sizes(walls)).toEqual([2, 2, 2, 2]);
  const openings = problem.openings.map((one, n) => ({ ...one, spaces: ["hall 0", n > 1 ? "room" : null] as const }));
  expect(sizes({ openings, spaces: [...problem.spaces, { id: "room", weight: 1 }] })).toEqual([2, 2, 2, 2]);
});

test("two that are alike may change their leaves: worst and sum stay as they are", () => {
  let changed = 0;
  for (let seed = 1; seed <= 200; seed++) {
    const board = layOut(wishfulJob(seed, 6));
    const { places, words, domains } = board;
    const plan = Int32Array.from(places, (_, place) => valuesOf(domains, place * words, words)[place % 3] ?? -1);
    if (plan.includes(-1)) continue;
    for (const [place, group] of alikePlaces(board).entries())
      for (const other of group) {
        if (other === place || plan[other] === plan[place]) continue;
        const swapped = plan.slice();
        swapped[place] = plan[other]!;
        swapped[other] = plan[place]!;
        expect(has(domains, place * words, swapped[place]!)).toBe(true);
        expect(worstOf(board, swapped)).toBe(worstOf(board, plan));
        expect(sumOf(board, swapped)).toBeCloseTo(sumOf(board, plan), 9);
        changed++;
      }
  }
  expect(changed).toBeGreaterThan(20);
});
