import type { AllotmentProblem, Plan, Seat } from "../../analysis/allot/allotment.ts";
import { seenDifferences } from "../../analysis/allot/seen-differences.ts";
import type { Delivery } from "../contract/delivery.ts";
import { faceOfSeat } from "./face-of-seat.ts";

type Figures = NonNullable<Delivery["allotment"]["figures"]>;

/** How the faces of a plan go together, as they count, among those that could be compared; an accepted mark may be the worst. */
export const togetherIn = (plan: Plan, problem: AllotmentProblem, tolerance: number): Figures["plan"] => {
  const seen = seenDifferences(problem, plan.places).filter(({ deltaE }) => deltaE !== null);
  const worst = Math.max(0, ...plan.marks.map(({ counts }) => counts), ...seen.map(({ weighted }) => weighted));
  const mean = seen.reduce((sum, { weighted }) => sum + weighted, 0) / Math.max(1, seen.length);
  const over = new Set(seen.filter(({ weighted }) => weighted > tolerance).map(({ space }) => space));
  return { worst, mean, spacesOver: over.size };
};

/** A face where it hangs, in words. */
export const seatName = (seat: Seat): string =>
  seat.kind === "leaf"
    ? `${seat.leaf} face ${seat.face} at ${seat.opening}`
    : `existing ${seat.id.replace("/", " face ")}`;

/** What sets the plan's worst, where it is beyond the tolerance: two faces, or a mark; and what could not be compared. */
const forcedBy = ({ worst, worstPair, marks, notCompared }: Plan, { spaces, terms }: Delivery): string | null => {
  const pairs = notCompared === 1 ? "1 pair" : `${notCompared} pairs`;
  const unknown = notCompared === 0 ? "" : `${pairs} of faces could not be compared.`;
  const nameOf = (space: string) => spaces.find(({ id }) => id === space)?.name ?? space;
  const [mark] = marks;
  if (worst <= terms.toleranceDE00) return unknown || null;
  if (mark && mark.counts >= worst)
    return `${nameOf(mark.space)}: the accepted mark on ${mark.leaf} face ${mark.face} at ${mark.opening}. ${unknown}`.trim();
  if (!worstPair || worstPair.deltaE === null) return unknown || null;
  return `${nameOf(worstPair.space)}: ${seatName(worstPair.one)} with ${seatName(worstPair.other)}. ${unknown}`.trim();
};

/**
 * The largest weighted differences of all groups of openings that are proven as small as can be, the largest first; none where some faces
 * could not be compared.
 */
export const settledIn = ({ settled, notCompared }: Plan): number[] =>
  settled
    .flat()
    .filter(({ worst, bound }) => notCompared === 0 && worst > 0 && bound >= worst)
    .map(({ worst }) => worst)
    .toSorted((a, b) => b - a);

/** A plan's figures beside those of both ways without a search. A bound is only claimed when every two faces seen together could be compared. */
export const figuresOf = (
  plan: Plan,
  { dealt, byEye }: { readonly dealt: Plan; readonly byEye: Plan },
  problem: AllotmentProblem,
  delivery: Delivery,
): Figures => {
  const { toleranceDE00 } = delivery.terms;
  const allCompared = plan.notCompared === 0;
  const { worstPair } = plan;
  return {
    plan: togetherIn(plan, problem, toleranceDE00),
    bound: allCompared ? plan.bound : 0,
    proven: allCompared && plan.proven,
    dealt: togetherIn(dealt, problem, toleranceDE00),
    byEye: togetherIn(byEye, problem, toleranceDE00),
    forcedBy: forcedBy(plan, delivery),
    settled: settledIn(plan),
    ...(worstPair && {
      pair: { space: worstPair.space, one: faceOfSeat(worstPair.one), other: faceOfSeat(worstPair.other) },
    }),
  };
};
