import { allotByHand } from "../../analysis/allot/allot.ts";
import type { AllotmentProblem } from "../../analysis/allot/allotment.ts";
import type { Allotments } from "../site.ts";

/** Both ways without a search. */
export const dealByHand = (problem: AllotmentProblem): Omit<Allotments, "plan"> => ({
  dealt: allotByHand(problem, "sorted"),
  byEye: allotByHand(problem, "by-eye"),
});
