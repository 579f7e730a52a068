import { expect, test } from "vitest";
import { layOut, type Values } from "../../../analysis/allot/board.ts";
import { searchClashes } from "../../../analysis/allot/clash-search.ts";
import { domainsAt, levelsBetween, limitAt } from "../../../analysis/allot/limit.ts";
import { shave } from "../../../analysis/allot/shave.ts";
import { countValues, has } from "../../../analysis/allot/value-sets.ts";
import { instance } from "../../bench/allotment-instances.ts";
import { bestOfEveryPlan } from "./every-plan.ts";
import { smallJob } from "./small-jobs.ts";

test("what it drops is in no plan under the limit, and where it says none there is none", () => {
  let [refuted, dropped] = [0, 0];
  for (let seed = 1; seed <= 60; seed++) {
    const problem = smallJob(seed, 3 + (seed % 3));
    const best = bestOfEveryPlan(problem);
    if (!best) continue;
    const board = layOut(problem);
    const { words, places } = board;
    const size = (sets: Int32Array): number =>
      places.reduce((sum, _, place) => sum + countValues(sets, place * words, words), 0);
    for (const level of levelsBetween(board, 0, best.worst)) {
      const sets = domainsAt(board, level);
      const before = size(sets);
      if (!shave(board, limitAt(board, level), sets, { left: 1e7 })) {
        expect(level).toBeLessThan(best.worst);
        refuted++;
      } else if (level === best.worst) {
        const outcome = searchClashes(board, limitAt(board, level), sets, { left: 1e7 });
        expect(outcome.kind).toBe("found");
        dropped += before - size(sets);
      }
    }
  }
  expect(refuted).toBeGreaterThan(100);
  expect(dropped).toBeGreaterThan(100);
});

test("keeps every place of a plan that stands, in a job of 24 leaves", () => {
  const board = layOut(instance(24, 3));
  const { words, places } = board;
  const level = 4.5;
  const outcome = searchClashes(board, limitAt(board, level), domainsAt(board, level), { left: 1e8 });
  if (outcome.kind !== "found") throw new Error(outcome.kind);
  const plan: Values = outcome.plan;
  const sets = domainsAt(board, level);
  expect(shave(board, limitAt(board, level), sets, { left: 1e8 })).toBe(true);
  for (const place of places.keys()) expect(has(sets, place * words, plan[place]!)).toBe(true);
});
