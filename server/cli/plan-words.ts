import type { Plan, SeenDifference } from "../../analysis/allot/allotment.ts";
import type { Delivery } from "../contract/delivery.ts";
import { seatName, settledIn } from "../use-cases/plan-figures.ts";
import { columns } from "./say.ts";

type Together = NonNullable<Delivery["allotment"]["figures"]>["plan"];

/** How well the faces seen together go with each other, way by way. */
export interface Ways {
  readonly plan: Together;
  readonly byEye: Together;
  readonly dealt: Together;
}

/** Two faces seen together, with their difference as measured and as it counts where that is another figure. */
export const pairInWords = ({ space, one, other, deltaE, weighted }: SeenDifference): string => {
  const measured = deltaE === null ? "not compared" : `ΔE00 ${deltaE.toFixed(2)}`;
  const counts = weighted.toFixed(2);
  const both = deltaE?.toFixed(2) === counts ? measured : `${measured}, counts ${counts}`;
  return `${space}: ${seatName(one)} with ${seatName(other)} (${both})`;
};

const largestInWords = (plan: Plan): string[] => {
  const settled = settledIn(plan).slice(0, 10);
  return settled.length > 1
    ? [`The largest, the next largest and so on: ${settled.map((worst) => worst.toFixed(2)).join(", ")}.`]
    : [];
};

const forcedInWords = ({ marks, worst, worstPair }: Plan): string[] => {
  const [mark] = marks;
  if (mark && mark.counts >= worst)
    return [`Forced by the mark on ${mark.leaf} face ${mark.face} at ${mark.opening}, seen in ${mark.space}.`];
  return worstPair ? [`Forced by ${pairInWords(worstPair)}.`] : [];
};

const waysInWords = ({ plan, byEye, dealt }: Ways, tolerance: number): string => {
  const row = (way: string, { worst, mean, spacesOver }: Together) => [
    way,
    worst.toFixed(2),
    mean.toFixed(2),
    String(spacesOver),
  ];
  return columns([
    ["Way", "worst", "mean", `spaces over ${tolerance}`],
    row("this plan", plan),
    row("picked by eye", byEye),
    row("dealt light to dark", dealt),
  ]);
};

/** A plan for people: where each leaf hangs, what forces its worst, and what one gets without a search beside it. */
export const planInWords = (plan: Plan, ways: Ways, tolerance: number): string => {
  const rows = plan.places.map(({ opening, place, leaf, turned, faceTo }) => [
    place === 0 ? opening : `${opening} right`,
    leaf,
    turned ? "turned" : "",
    `A to ${faceTo.A ?? "-"}`,
    `B to ${faceTo.B ?? "-"}`,
  ]);
  const best = plan.proven ? "proven best" : `at best ${plan.bound.toFixed(2)}`;
  return [
    columns(rows),
    `Largest difference seen in one space: ΔE00 ${plan.worst.toFixed(2)} (${best}).`,
    ...forcedInWords(plan),
    ...largestInWords(plan),
    ...(plan.spare.length > 0 ? [`Spare: ${plan.spare.join(", ")}.`] : []),
    ...(plan.empty.length > 0 ? [`Empty: ${plan.empty.map(({ opening }) => opening).join(", ")}.`] : []),
    waysInWords(ways, tolerance),
  ].join("\n");
};
