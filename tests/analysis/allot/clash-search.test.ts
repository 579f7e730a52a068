import { expect, test } from "vitest";
import { layOut, worstOf } from "../../../analysis/allot/board.ts";
import { searchClashes } from "../../../analysis/allot/clash-search.ts";
import { domainsAt, levelsBetween, limitAt } from "../../../analysis/allot/limit.ts";
import { bestOfEveryPlan } from "./every-plan.ts";
import { wishfulJob } from "./small-jobs.ts";

test("finds a plan under the least worst there is, and none under the level below it", () => {
  let [found, none] = [0, 0];
  for (let seed = 1; seed <= 60; seed++) {
    const problem = wishfulJob(seed, 3 + (seed % 3));
    const best = bestOfEveryPlan(problem);
    if (!best) continue;
    const board = layOut(problem);
    const levels = levelsBetween(board, 0, 1000);
    const at = levels.findLastIndex((level) => level <= best.worst + 1e-6);
    const decide = (level: number) =>
      searchClashes(board, limitAt(board, level), domainsAt(board, level), { left: 1e6 });
    const outcome = decide(levels[at]!);
    if (outcome.kind !== "found") throw new Error(`seed ${seed}: ${outcome.kind}`);
    expect(worstOf(board, outcome.plan)).toBeCloseTo(best.worst, 5);
    expect(new Set(outcome.plan.map((value) => value >>> 1)).size).toBe(board.places.length);
    found++;
    if (at === 0) continue;
    expect(decide(levels[at - 1]!).kind).toBe("none");
    none++;
  }
  expect(Math.min(found, none)).toBeGreaterThan(20);
});
