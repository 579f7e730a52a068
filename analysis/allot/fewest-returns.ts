import { uniformFrom } from "../algebra/seeded-random.ts";
import { allot, standardEffort } from "./allot.ts";
import type { AllotmentProblem, Lock, PlacedLeaf, Plan } from "./allotment.ts";
import { type Board, layOut, type Values } from "./board.ts";
import { dealSorted } from "./by-hand.ts";
import { faultIn, suits } from "./check-problem.ts";
import { describePlan, joinPlans } from "./describe-plan.ts";
import { fewerEmpty } from "./fewer-empty.ts";
import { type Exceptions, fewestExceptions } from "./fewest-exceptions.ts";
import { valuesBefore } from "./fewest-moves-search.ts";
import { emptyUnder, fillUnder } from "./fewest-returns-search.ts";
import { independentGroups } from "./independent-groups.ts";
import { placesToFill } from "./lacks.ts";
import { bestTurns, type Like, likeDelivered } from "./like-delivered.ts";
import { partOfBoard } from "./part-of-board.ts";
import { neighboursOf } from "./replacement-target.ts";
import { settle } from "./settle.ts";
import { countLeaves, firstValue } from "./value-sets.ts";

/**
 * The fewest leaves to return for colour, so that no weighted difference seen in any space passes the tolerance. `plan` hangs the leaves
 * that stay and leaves `replace` empty. No way has fewer than `bound` to replace, whatever the new leaves may look like.
 */
export interface FewestReturns {
  readonly kind: "returns";
  readonly tolerance: number;
  readonly bound: number;
  readonly proven: boolean;
  /** Where a new leaf is needed, which leaf goes back for it, and which delivered leaf the new one may look like. */
  readonly replace: readonly {
    readonly opening: string;
    readonly place: 0 | 1;
    /** Null when no leaf that is left over fits there. */
    readonly returned: string | null;
    /** Null when none of the delivered leaves would do: order by the range of colour instead. */
    readonly like: Like | null;
  }[];
  readonly plan: Plan;
}

export type ReturnsOutcome =
  | FewestReturns
  /** The leaves locked there pass the tolerance among themselves. */
  | { readonly kind: "locks-clash"; readonly locks: readonly Lock[] }
  | { readonly kind: "refused"; readonly why: string };

/** Looks that finding the fewest returns may take: about ten seconds. Most jobs of 60 leaves need a tenth of it. */
const standardLooks = 5e8;

/** Looks for each place fewer at the start, times the places squared, as an exchange looks at all of them: some thousand exchanges. */
const looksForOneLess = 1500;

/** Looks for the plan to begin from: one near the best leaves fewer places over the tolerance than one that is dealt. */
const looksForPlan = 3e7;

/** Least returns of every group of openings, all at once. Openings for which there is no leaf at all are left out. */
export const fewestReturns = (
  problem: AllotmentProblem,
  tolerance: number,
  looks: number = standardLooks,
): ReturnsOutcome => {
  const steps = fewestReturnsSteps(problem, tolerance, looks);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
};

/** The same step by step, after each the fewest met with so far and the bound, so that other work can be done in between. */
export function* fewestReturnsSteps(
  problem: AllotmentProblem,
  tolerance: number,
  looks: number = standardLooks,
): Generator<{ readonly returns: number; readonly bound: number }, ReturnsOutcome> {
  const why = faultIn(problem);
  if (why !== null) return { kind: "refused", why };
  if (!(tolerance > 0 && tolerance < Number.POSITIVE_INFINITY))
    return { kind: "refused", why: `the tolerance is ${tolerance}, not a number above 0` };
  const plans: Plan[] = [];
  const replace: At[] = [];
  let bound = 0;
  for (const group of independentGroups(problem)) {
    const board = boardOf(group);
    const start = startUnder(group, board, tolerance);
    if (start === null) return { kind: "locks-clash", locks: group.locks };
    const steps = fewestExceptions(start.demand, start.exceptions, { left: looks });
    let last = steps.next();
    for (; !last.done; last = steps.next())
      yield { returns: replace.length + last.value.excepted.length, bound: bound + last.value.bound };
    const { way, excepted } = last.value;
    const part = partOfBoard(board, without(board, excepted));
    const settled = settle(part, way, tolerance, uniformFrom(1), 300);
    plans.push(describePlan(group, part, { plan: settled, proven: false }, 0));
    bound += last.value.bound;
    for (const place of excepted) {
      const { opening, place: number } = board.places[place]!;
      replace.push({ opening, place: number });
    }
  }
  const plan = joinPlans(problem, plans);
  const returned = leftOverFor(problem, plan, replace);
  const like = likeDelivered(problem, plan.places, replace, tolerance);
  return {
    kind: "returns",
    tolerance,
    bound,
    proven: bound >= replace.length,
    replace: replace.map((at, index) => ({ ...at, returned: returned[index]!, like: like[index]! })),
    plan,
  };
}

/** Every place that can be given a leaf at all. */
const boardOf = (problem: AllotmentProblem): Board => {
  const whole = layOut(problem);
  const { filled } = placesToFill(whole, problem.mayStayEmpty);
  return partOfBoard(whole, filled);
};

const without = ({ places }: Board, excepted: readonly number[]): number[] =>
  [...places.keys()].filter((place) => !excepted.includes(place));

/** Places that only a locked leaf may take: they stay filled. */
const lockedPlaces = ({ places, domains, words, leaves }: Board, { locks }: AllotmentProblem): Set<number> => {
  const locked = new Set(locks.map(({ leaf }) => leaf));
  return new Set(
    [...places.keys()].filter(
      (place) =>
        countLeaves(domains, place * words, words) === 1 &&
        locked.has(leaves[firstValue(domains, place * words, words) >>> 1]!.id),
    ),
  );
};

/** Some places that do when left empty, to begin with; null when the locked ones alone pass the tolerance. */
const startUnder = (problem: AllotmentProblem, board: Board, tolerance: number) => {
  const locked = lockedPlaces(board, problem);
  const dealt = dealSorted(board);
  const demand = fillUnder(board, tolerance, dealt, locked);
  const looks = looksForOneLess * board.places.length ** 2;
  const ways = [dealt, ...plannedFor(problem, board)].flatMap((plan) => {
    const empty = emptyUnder(board, tolerance, plan, locked);
    return empty ? [fewerEmpty(board, tolerance, plan, empty, locked, looks)] : [];
  });
  const first = ways.reduce<Start | null>(
    (least, way) => (least && least.excepted.length <= way.excepted.length ? least : way),
    null,
  );
  if (first) return { demand, exceptions: first };
  const fast = [...locked].toSorted((a, b) => a - b);
  const attempt = demand.attempt(fast, { left: standardLooks });
  if (attempt.kind !== "found") return null;
  const excepted = [...board.places.keys()].filter((place) => !locked.has(place));
  return { demand, exceptions: { excepted, way: attempt.way } satisfies Start };
};

/** A plan with a small worst difference, when all places of the board can be filled so. */
const plannedFor = (problem: AllotmentProblem, board: Board): Values[] => {
  const plan = allot(problem, { ...standardEffort, looks: looksForPlan, nextLooks: 0, sumLooks: 0 });
  const values = plan.kind === "plan" ? valuesBefore(board, plan.places) : null;
  return values?.every((value) => value >= 0) ? [values] : [];
};

type At = Pick<PlacedLeaf, "opening" | "place">;
type Start = Omit<Exceptions<Values>, "bound">;

/** For each place a leaf that was left over and fits there, the one that goes worst with the faces beside it; no leaf twice. */
const leftOverFor = (problem: AllotmentProblem, plan: Plan, replace: readonly At[]): (string | null)[] => {
  const left = new Set(plan.spare);
  return replace.map((at) => {
    const opening = problem.openings.find(({ id }) => id === at.opening)!;
    const candidates = problem.leaves.filter((leaf) => left.has(leaf.id) && suits(leaf, opening));
    const worst = bestTurns(problem, candidates, neighboursOf(problem, plan.places, at)).at(-1);
    if (worst) left.delete(worst.leaf);
    return worst?.leaf ?? null;
  });
};
