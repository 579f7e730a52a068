import { dealByHand } from "./deal-by-hand.ts";
import { planInSteps } from "./plan-in-steps.ts";
import type { PlanningMessage, PlanningOrder } from "./planning-messages.ts";

/** At most five a second are sent. */
const betweenMessagesMs = 200;

let stopped = false;

const say = (message: PlanningMessage): void => {
  process.send?.(message);
};

let saidAt = Number.NEGATIVE_INFINITY;

const sayHowFar = ({ worst, bound }: { readonly worst: number; readonly bound: number }): void => {
  if (performance.now() - saidAt < betweenMessagesMs) return;
  say({ kind: "progress", worst, bound });
  saidAt = performance.now();
};

/** The child's side: one plan, then it is ended. It ends by itself when its parent is gone. */
process.on("message", async (order: PlanningOrder) => {
  if (order.kind === "stop") {
    stopped = true;
    return;
  }
  try {
    const plan = await planInSteps(order.problem, { hears: sayHowFar, isStopped: () => stopped });
    say({ kind: "made", plan, ...dealByHand(order.problem) });
  } catch (error) {
    say({ kind: "failed", error: error instanceof Error ? error.message : String(error) });
  }
});
process.on("disconnect", () => process.exit(0));
