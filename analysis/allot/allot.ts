import { uniformFrom } from "../algebra/seeded-random.ts";
import type { Allotment, AllotmentProblem, Lack, Plan } from "./allotment.ts";
import { type Board, layOut, type Values, worstOf } from "./board.ts";
import { dealByEye, dealSorted } from "./by-hand.ts";
import { faultIn } from "./check-problem.ts";
import { closeGap, openSearch, type Progress } from "./close-gap.ts";
import { describePlan, joinPlans } from "./describe-plan.ts";
import { independentGroups } from "./independent-groups.ts";
import { lacksAt, placesToFill } from "./lacks.ts";
import { leastSum } from "./least-sum.ts";
import type { Draw } from "./move.ts";
import { isTwice, type LargestSettled, settleNextLargest } from "./next-largest.ts";
import { type Aim, settle, spacesOver } from "./settle.ts";

/**
 * How long to go on, in elementary looks at a set or a table (50 to 100 million a second once warm): for the worst of each group of openings,
 * at most `looks` and so many a place; for the next largest differences, `nextLooks` up to `smallJob` places and more with their
 * square; for the least sum under them, before which `exchanges` are tried a place, more with the places from a small job up.
 */
export interface Effort {
  readonly looks: number;
  readonly looksPerPlace: number;
  readonly nextLooks: number;
  readonly sumLooks: number;
  readonly exchanges: number;
}

/** Places of a job that is to be answered while one waits, from cold: a flat or two. */
const smallJob = 24;

/**
 * Most jobs are proven in a hundredth of it. Where none is found it ends after some 6 s at 60 leaves, 12 s at 120, 30 s at 300.
 * What comes after the worst has a tenth of a second in a small job.
 */
export const standardEffort: Effort = {
  looks: Number.POSITIVE_INFINITY,
  looksPerPlace: 8e6,
  nextLooks: 1.2e5,
  sumLooks: 1e5,
  exchanges: 300,
};

/**
 * Allots leaves and faces to openings so that the largest weighted difference seen in any space is as small as can be,
 * then the sum of all of them, and says of each whether it is proven least. The same problem gives the same plan on any machine,
 * in whatever order its lists stand.
 */
export const allot = (problem: AllotmentProblem, effort: Effort = standardEffort): Allotment => {
  const steps = allotSteps(problem, effort);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
};

/**
 * The same step by step: after each the caller may report the progress, or take the best plan so far with `next("stop")`.
 * Groups that have nothing to do with each other are planned one after the other; the progress is of the whole so far.
 */
export function* allotSteps(
  problem: AllotmentProblem,
  effort: Effort,
): Generator<Progress, Allotment, "stop" | undefined> {
  const why = faultIn(problem);
  if (why !== null) return { kind: "refused", why };
  const laid = boardFor(problem);
  if (laid.kind !== "board") return laid;
  const plans: Plan[] = [];
  let stopped = false;
  for (const group of independentGroups(problem)) {
    const steps = planGroup(group, stopped ? noEffort : effort);
    for (let step = steps.next(); ; ) {
      if (step.done) {
        if (step.value.kind !== "plan") return step.value;
        plans.push(step.value);
        break;
      }
      const { worst, bound } = step.value;
      const soFar = (of: (plan: Plan) => number, now: number) =>
        plans.reduce((high, plan) => Math.max(high, of(plan)), now);
      const wish = yield { worst: soFar((plan) => plan.worst, worst), bound: soFar((plan) => plan.bound, bound) };
      stopped ||= wish === "stop";
      step = steps.next(wish);
    }
  }
  return joinPlans(problem, plans);
}

const noEffort: Effort = { looks: 0, looksPerPlace: 0, nextLooks: 0, sumLooks: 0, exchanges: 0 };

function* planGroup(problem: AllotmentProblem, effort: Effort): Generator<Progress, Allotment, "stop" | undefined> {
  const laid = boardFor(problem);
  if (laid.kind !== "board") return laid;
  const { board } = laid;
  const draw = uniformFrom(1);
  const [sorted, byEye] = [dealSorted(board), dealByEye(board)];
  const search = openSearch(board, worstOf(board, byEye) < worstOf(board, sorted) ? byEye : sorted);
  let stopped = false;
  const places = board.places.length;
  for (const progress of closeGap(search, draw, { left: Math.min(effort.looks, effort.looksPerPlace * places) }))
    if ((yield progress) === "stop") {
      stopped = true;
      break;
    }
  const first = { worst: search.levels[search.high]!, bound: search.levels[search.low]! };
  if (stopped) return describePlan(problem, board, { plan: search.plan, proven: false }, first.bound);
  const larger = Math.max(1, places / smallJob);
  const steps = settleNextLargest(board, search.plan, first, problem.tolerance ?? 0, draw, {
    left: effort.nextLooks * larger ** 2,
  });
  let step = steps.next();
  while (!step.done) {
    if ((yield first) === "stop")
      return describePlan(problem, board, { plan: step.value.plan, proven: false }, first.bound, step.value.settled);
    step = steps.next();
  }
  const aim = { board, tolerance: problem.tolerance ?? Number.POSITIVE_INFINITY };
  return describePlan(
    problem,
    board,
    lowerSum(step.value, aim, draw, { ...effort, exchanges: effort.exchanges * larger }),
    first.bound,
    step.value.settled,
  );
}

/** Lowers the spaces over tolerance and the sum, the largest differences staying as they are settled. */
const lowerSum = ({ plan, settled, capped, cap }: LargestSettled, aim: Aim, draw: Draw, effort: Effort) => {
  const lowered = settle(capped, plan, cap, draw, effort.exchanges, aim);
  const least = leastSum(capped, lowered, cap, { left: effort.sumLooks }, aim.board);
  const isKept = (one: Values) => !settled.some(({ worst }) => worst > cap && isTwice(aim.board, one, worst));
  if (isKept(least.plan) && spacesOver(aim, least.plan) <= spacesOver(aim, lowered))
    return { plan: least.plan, proven: least.proven };
  return { plan: isKept(lowered) ? lowered : plan, proven: false };
};

/** The plan one gets without a search, to be shown beside the best one: leaves dealt out sorted by lightness, or chosen by eye. */
export const allotByHand = (problem: AllotmentProblem, way: "sorted" | "by-eye"): Allotment => {
  const why = faultIn(problem);
  if (why !== null) return { kind: "refused", why };
  const laid = boardFor(problem);
  if (laid.kind !== "board") return laid;
  return describePlan(
    problem,
    laid.board,
    { plan: way === "sorted" ? dealSorted(laid.board) : dealByEye(laid.board), proven: false },
    0,
  );
};

/** The problem must be free of faults. */
const boardFor = (
  problem: AllotmentProblem,
): { readonly kind: "board"; readonly board: Board } | Exclude<Allotment, Plan> => {
  const whole = layOut(problem);
  const { filled, empty, matching } = placesToFill(whole, problem.mayStayEmpty);
  const unfilled = empty.filter((place) => !problem.mayStayEmpty.includes(whole.places[place]!.opening));
  if (unfilled.length > 0) return impossible(problem, lacksAt(whole, matching, unfilled));
  return {
    kind: "board",
    board:
      empty.length === 0
        ? whole
        : layOut(
            problem,
            filled.map((place) => whole.places[place]!),
          ),
  };
};

const impossible = (problem: AllotmentProblem, lacks: readonly Lack[]): Extract<Allotment, { kind: "impossible" }> => ({
  kind: "impossible",
  lacks,
  openings: lacks.flatMap((lack) => lack.openings.map((opening) => ({ opening, lacks: sayLack(problem, lack) }))),
});

const sayLack = ({ openings }: AllotmentProblem, { openings: rivals, leaves, short }: Lack): string => {
  const specs = [...new Set(openings.filter(({ id }) => rivals.includes(id)).map(({ spec }) => spec))].join(", ");
  const has =
    leaves.length === 0 ? "no leaf can hang there" : `only ${leaves.join(", ")} can hang in ${rivals.join(", ")}`;
  return `${short === 1 ? "1 leaf" : `${short} leaves`} of ${specs}: ${has}`;
};
