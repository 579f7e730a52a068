import { setImmediate as breathe } from "node:timers/promises";
import { allotSteps, standardEffort } from "../../analysis/allot/allot.ts";
import type { Allotment, AllotmentProblem } from "../../analysis/allot/allotment.ts";
import { dealByHand } from "./deal-by-hand.ts";
import type { PlanningMessage, PlanningOrder } from "./planning-messages.ts";

/** At most five a second are sent. */
const betweenMessagesMs = 200;

let stopped = false;

const say = (message: PlanningMessage): void => {
  process.send?.(message);
};

/** Plans step by step, so that a wish to stop is heard between two steps. */
const planOf = async (problem: AllotmentProblem): Promise<Allotment> => {
  const steps = allotSteps(problem, standardEffort);
  let saidAt = Number.NEGATIVE_INFINITY;
  for (let step = steps.next(); ; step = steps.next(stopped ? "stop" : undefined)) {
    if (step.done) return step.value;
    if (performance.now() - saidAt >= betweenMessagesMs) {
      say({ kind: "progress", worst: step.value.worst, bound: step.value.bound });
      saidAt = performance.now();
    }
    await breathe();
  }
};

/** The child's side: one plan, then it is ended. It ends by itself when its parent is gone. */
process.on("message", async (order: PlanningOrder) => {
  if (order.kind === "stop") {
    stopped = true;
    return;
  }
  try {
    say({ kind: "made", plan: await planOf(order.problem), ...dealByHand(order.problem) });
  } catch (error) {
    say({ kind: "failed", error: error instanceof Error ? error.message : String(error) });
  }
});
process.on("disconnect", () => process.exit(0));
