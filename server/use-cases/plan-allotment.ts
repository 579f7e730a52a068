import type { Allotment, AllotmentProblem, Plan, Seat } from "../../analysis/allot/allotment.ts";
import { seenDifferences } from "../../analysis/allot/seen-differences.ts";
import type { Body, Reply } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Actor } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import type { Allotments, Site } from "../site.ts";
import { allotmentProblem } from "./allotment-problem.ts";
import { faceOfSeat } from "./face-of-seat.ts";
import { viewMatch } from "./view-match.ts";

type Figures = NonNullable<Delivery["allotment"]["figures"]>;

/** A plan with what one gets without a search. */
type MadePlan = Omit<Allotments, "plan"> & { readonly plan: Plan };

const plannedOr = (allotment: Allotment): Plan => {
  if (allotment.kind === "plan") return allotment;
  if (allotment.kind === "refused") throw new Refusal(`The allotment cannot be planned: ${allotment.why}.`);
  const lacking = allotment.openings.map(({ opening, lacks }) => ({ at: opening, says: lacks }));
  const names = lacking.map(({ at, says }) => `${at}: ${says}`).join("; ");
  throw new Refusal(`There is no plan for all openings. ${names}.`, 409, lacking);
};

/** How the faces of a plan go together, as they count, among those that could be compared; an accepted mark may be the worst. */
const togetherIn = (plan: Plan, problem: AllotmentProblem, tolerance: number): Figures["plan"] => {
  const seen = seenDifferences(problem, plan.places).filter(({ deltaE }) => deltaE !== null);
  const worst = Math.max(0, ...plan.marks.map(({ counts }) => counts), ...seen.map(({ weighted }) => weighted));
  const mean = seen.reduce((sum, { weighted }) => sum + weighted, 0) / Math.max(1, seen.length);
  const over = new Set(seen.filter(({ weighted }) => weighted > tolerance).map(({ space }) => space));
  return { worst, mean, spacesOver: over.size };
};

const seatName = (seat: Seat): string =>
  seat.kind === "leaf"
    ? `${seat.leaf} face ${seat.face} at ${seat.opening}`
    : `existing ${seat.id.replace("/", " face ")}`;

/** What sets the plan's worst, where it is beyond the tolerance: two faces, or a mark; and what could not be compared. */
const forcedBy = ({ worst, worstPair, marks, notCompared }: Plan, { spaces, terms }: Delivery): string | null => {
  const unknown = notCompared === 0 ? "" : `${notCompared} pairs of faces could not be compared.`;
  const nameOf = (space: string) => spaces.find(({ id }) => id === space)?.name ?? space;
  const [mark] = marks;
  if (worst <= terms.toleranceDE00) return unknown || null;
  if (mark && mark.counts >= worst)
    return `${nameOf(mark.space)}: the accepted mark on ${mark.leaf} face ${mark.face} at ${mark.opening}. ${unknown}`.trim();
  if (!worstPair || worstPair.deltaE === null) return unknown || null;
  return `${nameOf(worstPair.space)}: ${seatName(worstPair.one)} with ${seatName(worstPair.other)}. ${unknown}`.trim();
};

/** The largest weighted difference of every group of openings, the next largest and so on, as far as they are settled. */
const settledIn = ({ settled }: Plan): number[] =>
  settled
    .flat()
    .map(({ worst }) => worst)
    .toSorted((a, b) => b - a);

/** A bound is only claimed when every two faces seen together could be compared. */
const figuresOf = ({ plan, dealt, byEye }: MadePlan, problem: AllotmentProblem, delivery: Delivery): Figures => {
  const { toleranceDE00 } = delivery.terms;
  const allCompared = plan.notCompared === 0;
  const { worstPair } = plan;
  return {
    plan: togetherIn(plan, problem, toleranceDE00),
    bound: allCompared ? plan.bound : 0,
    proven: allCompared && plan.proven,
    dealt: togetherIn(plannedOr(dealt), problem, toleranceDE00),
    byEye: togetherIn(plannedOr(byEye), problem, toleranceDE00),
    forcedBy: forcedBy(plan, delivery),
    settled: settledIn(plan),
    ...(worstPair && {
      pair: { space: worstPair.space, one: faceOfSeat(worstPair.one), other: faceOfSeat(worstPair.other) },
    }),
  };
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
  { by }: Body<"planAllotment">,
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
  const figures = figuresOf(made, problem, before);
  await store.change(by, what, (delivery) => {
    if (!isSame(before, store.read())) throw new Refusal("Something changed while it was planned: plan again.");
    const { allotment } = delivery;
    const { plan, plannedAt } = allotment;
    if (plannedAt !== null) allotment.before = { plan, plannedAt, figures: allotment.figures };
    allotment.plan = made.plan.places.map(({ opening, place, leaf, turned }) => ({ opening, place, leaf, turned }));
    allotment.plannedAt = site.now();
    allotment.figures = figures;
  });
  return viewMatch(site, before.id);
};
