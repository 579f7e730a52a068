import { allot, type Effort, standardEffort } from "./allot.ts";
import type { Allotment, AllotmentProblem, PlacedLeaf, Plan } from "./allotment.ts";
import { layOut } from "./board.ts";
import { faultIn } from "./check-problem.ts";
import { describePlan, joinPlans } from "./describe-plan.ts";
import { leastMoved, valuesBefore } from "./fewest-moves-search.ts";
import { independentGroups } from "./independent-groups.ts";
import { placesOf } from "./seen-together.ts";

/** Where leaves hung, or were to hang, before. */
export type Before = readonly Pick<PlacedLeaf, "opening" | "place" | "leaf" | "turned">[];

/** A leaf that hangs elsewhere, or the other way round; `from` null when it was spare or came late, `to` null when it hangs no more. */
export interface Moved {
  readonly leaf: string;
  readonly from: { readonly opening: string; readonly place: 0 | 1 } | null;
  readonly to: { readonly opening: string; readonly place: 0 | 1 } | null;
  readonly turned: boolean;
}

/**
 * A plan that changes `changed` of the places that could have stayed as they were, and gives up at most `loss` of ΔE00, in each group of openings,
 * against the best plan. No plan within that loss changes fewer than `bound`.
 */
export interface FewMoves {
  readonly loss: number;
  readonly changed: number;
  readonly bound: number;
  readonly proven: boolean;
  readonly plan: Plan;
  readonly moved: readonly Moved[];
}

export type MovesOutcome =
  | {
      readonly kind: "moves";
      /** Within the loss that was stated. */
      readonly chosen: FewMoves;
      /** What fewer or more moves would give: the fewest changes first, each with a smaller worst difference than the one before. */
      readonly curve: readonly FewMoves[];
    }
  | Exclude<Allotment, Plan>;

/** Losses the curve is drawn through, ΔE00: a quarter of what is just seen, up to any at all; with the one that is stated. */
const lossesShown = [0, 0.25, 0.5, 1, 2, Number.POSITIVE_INFINITY];

/** Looks that each point of the curve may take: a third of a second or so. */
const looksForPoint = 2e7;

/**
 * After a change (a leaf rejected, one that came late, some that are hung: locks): the plan that leaves as many places as it can as they
 * were, for a loss of at most `loss` ΔE00 against the best plan. A place whose leaf is gone, or may not hang there any more, counts for none.
 */
export const fewestMoves = (
  problem: AllotmentProblem,
  before: Before,
  loss: number,
  effort: Effort = standardEffort,
): MovesOutcome => {
  const why = faultIn(problem) ?? faultBefore(problem, before, loss);
  if (why !== null) return { kind: "refused", why };
  const best = allot(problem, effort);
  if (best.kind !== "plan") return best;
  const losses = [...new Set([...lossesShown, loss])].sort((a, b) => a - b);
  const points = losses.map((one) => withinLoss(problem, best, before, one));
  return { kind: "moves", chosen: points[losses.indexOf(loss)]!, curve: frontOf(points) };
};

const withinLoss = (problem: AllotmentProblem, best: Plan, before: Before, loss: number): FewMoves => {
  let changed = 0;
  let bound = 0;
  const plans = independentGroups(problem).map((group) => {
    const filled = new Set(best.places.map(({ opening, place }) => `${opening} ${place}`));
    const board = layOut(
      group,
      placesOf(group).filter(({ opening, place }) => filled.has(`${opening} ${place}`)),
    );
    const plan = valuesBefore(board, best.places);
    const own = describePlan(group, board, { plan, proven: false }, 0);
    const least = leastMoved(board, own.worst + loss, valuesBefore(board, before), plan, looksForPoint);
    changed += least.moved;
    bound += least.bound;
    return describePlan(group, board, { plan: least.plan, proven: false }, best.bound);
  });
  const plan = joinPlans(problem, plans);
  return { loss, changed, bound, proven: bound >= changed, plan, moved: movedBetween(before, plan.places) };
};

/** Those that are not worse in one way without being better in the other, the fewest changes first. */
const frontOf = (points: readonly FewMoves[]): FewMoves[] => {
  const front: FewMoves[] = [];
  for (const point of points.toSorted(
    (a, b) => a.changed - b.changed || a.plan.worst - b.plan.worst || a.plan.sum - b.plan.sum,
  ))
    if (!front.some(({ plan }) => plan.worst <= point.plan.worst)) front.push(point);
  return front;
};

/** What hangs elsewhere, in the order of the leaves. */
export const movedBetween = (before: Before, after: Before): Moved[] => {
  const was = new Map(before.map((one) => [one.leaf, one]));
  const is = new Map(after.map((one) => [one.leaf, one]));
  return [...new Set([...was.keys(), ...is.keys()])].toSorted().flatMap((leaf): Moved[] => {
    const [old, now] = [was.get(leaf), is.get(leaf)];
    const turned = old !== undefined && now !== undefined && old.turned !== now.turned;
    if (old?.opening === now?.opening && old?.place === now?.place && !turned) return [];
    const at = (one: typeof old) => (one ? { opening: one.opening, place: one.place } : null);
    return [{ leaf, from: at(old), to: at(now), turned }];
  });
};

const faultBefore = ({ leaves, openings }: AllotmentProblem, before: Before, loss: number): string | null => {
  if (!(loss >= 0)) return `the loss is ${loss}, not a number from 0 up`;
  for (const [index, { leaf, opening }] of before.entries()) {
    if (!leaves.some(({ id }) => id === leaf)) return `the plan before names leaf ${leaf}, which does not exist`;
    if (!openings.some(({ id }) => id === opening))
      return `the plan before names opening ${opening}, which does not exist`;
    if (before.findIndex((one) => one.leaf === leaf) !== index) return `leaf ${leaf} stands twice in the plan before`;
  }
  return null;
};
