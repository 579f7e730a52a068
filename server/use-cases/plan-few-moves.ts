import type { Reply, Signed } from "../contract/calls.ts";
import type { Site } from "../site.ts";
import { askedOf } from "./allotment-as-it-stands.ts";
import { keepPlan } from "./plan-allotment.ts";
import { plannedOr } from "./planned-or.ts";

/** Plans anew so that as few leaves move as can for a loss of at most `loss` ΔE00 against the best plan. */
export const planFewMoves = async (
  site: Site,
  deliveryId: string,
  { by, loss }: Signed<"planFewMoves">,
): Promise<Reply<"planFewMoves">> => {
  const { delivery, problem, before } = askedOf(site, deliveryId);
  const { chosen } = plannedOr(await site.askAllotment({ kind: "moves", problem, before, loss }));
  const made = { plan: chosen.plan, ...(await site.dealByHand(problem)) };
  return keepPlan(site, delivery, problem, made, by, `Planned the allotment with ${chosen.moved.length} moves`);
};
