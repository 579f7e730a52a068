import type { Allotment, AllotmentProblem, Plan } from "../../analysis/allot/allotment.ts";
import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Actor } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import type { Allotments, Site } from "../site.ts";
import { allotmentProblem } from "./allotment-problem.ts";
import { figuresOf } from "./plan-figures.ts";
import { viewMatch } from "./view-match.ts";

/** A plan with what one gets without a search. */
type MadePlan = Omit<Allotments, "plan"> & { readonly plan: Plan };

const plannedOr = (allotment: Allotment): Plan => {
  if (allotment.kind === "plan") return allotment;
  if (allotment.kind === "refused") throw new Refusal(`The allotment cannot be planned: ${allotment.why}.`);
  const lacking = allotment.openings.map(({ opening, lacks }) => ({ at: opening, says: lacks }));
  const names = lacking.map(({ at, says }) => `${at}: ${says}`).join("; ");
  throw new Refusal(`There is no plan for all openings. ${names}.`, 409, lacking);
};

/** Whether nothing a plan rests on changed: a document shares with the next one whatever is the same in both. */
const isSame = (one: Delivery, other: Delivery): boolean =>
  one.terms === other.terms &&
  one.leaves === other.leaves &&
  one.marks === other.marks &&
  one.spaces === other.spaces &&
  one.lines === other.lines &&
  one.openings === other.openings &&
  one.allotment.sight === other.allotment.sight &&
  one.allotment.locks === other.allotment.locks &&
  one.allotment.bans === other.allotment.bans;

/**
 * Plans which leaf hangs where and which way round, keeping locks and bans. Refused, naming each opening and what it lacks, when
 * no plan is possible; the plan before it stays.
 */
export const planAllotment = async (
  site: Site,
  deliveryId: string,
  { by }: Signed<"planAllotment">,
): Promise<Reply<"planAllotment">> => {
  const store = site.store.open(deliveryId);
  const before = store.read();
  const problem = allotmentProblem(before, site.measuring.measured(deliveryId));
  const { plan, ...byHand } = await site.planning.make(deliveryId, problem);
  return keepPlan(site, before, problem, { plan: plannedOr(plan), ...byHand }, by, "Planned the allotment");
};

/** Writes a plan down with its figures; refused when something it rests on changed since `before` was read. */
export const keepPlan = async (
  site: Site,
  before: Delivery,
  problem: AllotmentProblem,
  made: MadePlan,
  by: Actor,
  what: string,
): Promise<Reply<"planAllotment">> => {
  const store = site.store.open(before.id);
  const byHand = { dealt: plannedOr(made.dealt), byEye: plannedOr(made.byEye) };
  const figures = figuresOf(made.plan, byHand, problem, before);
  await store.change(by, what, (delivery, { document }) => {
    if (!isSame(before, document)) throw new Refusal("Something changed while it was planned: plan again.");
    const { allotment } = delivery;
    const { plan, plannedAt } = allotment;
    if (plannedAt !== null) allotment.before = { plan, plannedAt, figures: allotment.figures };
    allotment.plan = made.plan.places.map(({ opening, place, leaf, turned }) => ({ opening, place, leaf, turned }));
    allotment.plannedAt = site.now();
    allotment.figures = figures;
  });
  return viewMatch(site, before.id);
};
