import { setImmediate as breathe } from "node:timers/promises";
import { allotSteps, standardEffort } from "../../analysis/allot/allot.ts";
import type { Allotment, AllotmentProblem } from "../../analysis/allot/allotment.ts";

/** Who follows a plan while it is made: `hears` how far it is after each step; once `isStopped`, the best so far is taken. */
interface Follower {
  readonly hears: (progress: { readonly worst: number; readonly bound: number }) => void;
  readonly isStopped: () => boolean;
}

/** Plans step by step, so that a wish to stop is heard between two steps. */
export const planInSteps = async (problem: AllotmentProblem, { hears, isStopped }: Follower): Promise<Allotment> => {
  const steps = allotSteps(problem, standardEffort);
  for (let step = steps.next(); ; step = steps.next(isStopped() ? "stop" : undefined)) {
    if (step.done) return step.value;
    hears(step.value);
    await breathe();
  }
};
