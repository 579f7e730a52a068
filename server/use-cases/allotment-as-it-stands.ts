import type { AllotmentProblem } from "../../analysis/allot/allotment.ts";
import type { Before } from "../../analysis/allot/fewest-moves.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Site } from "../site.ts";
import { allotmentProblem } from "./allotment-problem.ts";

/** What a question about the allotment begins from. */
interface Asked {
  readonly delivery: Delivery;
  readonly problem: AllotmentProblem;
  /** The plan as it stands, without leaves that cannot hang any more. */
  readonly before: Before;
}

/** The delivery, what is to be allotted, and where leaves hang by the plan. */
export const askedOf = (site: Site, deliveryId: string): Asked => {
  const delivery = site.store.open(deliveryId).read();
  const problem = allotmentProblem(delivery, site.measuring.measured(deliveryId));
  const leaves = new Set(problem.leaves.map(({ id }) => id));
  const openings = new Set(problem.openings.map(({ id }) => id));
  const before = delivery.allotment.plan.filter(({ leaf, opening }) => leaves.has(leaf) && openings.has(opening));
  return { delivery, problem, before };
};
