import type { MatchView } from "../../server/contract/views.ts";
import { figure } from "../words.ts";

type Figures = Pick<NonNullable<MatchView["figures"]>, "plan" | "bound" | "proven">;

/** Half of the last digit that is shown, ΔE00: a plan nearer to the bound than this is the best as far as the figures tell. */
const shownAlike = 0.05;

/** How near a plan is to the best there can be. */
export const bestWords = ({ plan, bound, proven }: Figures): string => {
  if (proven) return "Proven best: no plan has a smaller worst pair.";
  if (bound <= 0) return "How small the worst pair could be is not known.";
  const above = Math.max(plan.worst - bound, shownAlike * 2);
  return `At most ${figure(above, null)} above the best: no plan can bring the worst pair below ${figure(bound, null)}.`;
};

/** How far planning is: "Worst so far 3.1, cannot be below 2.9". */
export const planningWords = ({ worst, bound }: NonNullable<MatchView["planning"]>): string => {
  const so = `Worst so far ${figure(worst, null)}`;
  if (bound <= 0) return `${so}; how small it can be is not known yet.`;
  return worst - bound < shownAlike
    ? `${so}, it cannot be smaller. The next largest differences are being lessened.`
    : `${so}, cannot be below ${figure(bound, null)}.`;
};
