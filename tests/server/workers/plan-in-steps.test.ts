import { expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import { planInSteps } from "../../../server/workers/plan-in-steps.ts";
import { instance } from "../../bench/allotment-instances.ts";

const problem = instance(24, 5);

test("the plan is the one made at a stretch, and no bound heard on the way is above its worst", async () => {
  const heard: { worst: number; bound: number }[] = [];
  const plan = await planInSteps(problem, { hears: (progress) => heard.push(progress), isStopped: () => false });
  expect(plan).toEqual(allot(problem));
  if (plan.kind !== "plan") throw new Error("no plan");
  expect(heard.length).toBeGreaterThan(1);
  for (const { bound } of heard) expect(bound).toBeLessThanOrEqual(plan.worst);
});

test("stopped after the first step it gives a whole plan", async () => {
  let steps = 0;
  const plan = await planInSteps(problem, {
    hears: () => {
      steps += 1;
    },
    isStopped: () => true,
  });
  if (plan.kind !== "plan") throw new Error("no plan");
  const places = problem.openings.reduce((sum, { leaves }) => sum + leaves, 0);
  expect(plan.places.length + plan.empty.length).toBe(places);
  expect(plan.bound).toBeLessThanOrEqual(plan.worst);
  expect(steps).toBeGreaterThan(0);
});
