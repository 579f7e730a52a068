import type { AllotmentProblem, Plan, Settled } from "./allotment.ts";
import { type Board, sumOf, type Values, worstOf } from "./board.ts";
import { seenDifferences, seenMarks, worstSeen } from "./seen-differences.ts";
import { placesOf } from "./seen-together.ts";

/**
 * The plan in words of the trade: every leaf in its place, the worst of each space, how far from best it can be. `proven`: the sum is.
 * `settled`: the largest differences, one after the other, the first bounded by `bound`.
 */
export const describePlan = (
  problem: AllotmentProblem,
  board: Board,
  { plan, proven }: { readonly plan: Values; readonly proven: boolean },
  bound: number,
  settled: readonly Settled[] = [{ worst: worstOf(board, plan), bound: Math.min(bound, worstOf(board, plan)) }],
): Plan => {
  const places = board.places.map(({ opening, place, spaces }, at) => {
    const value = plan[at]!;
    const turned = (value & 1) === 1;
    const faceTo = { A: spaces[turned ? 1 : 0], B: spaces[turned ? 0 : 1] };
    return { opening, place, leaf: board.leaves[value >>> 1]!.id, turned, faceTo };
  });
  const worst = worstOf(board, plan);
  return describePlaces(problem, places, {
    worst,
    bound: Math.min(bound, worst),
    settled: [settled],
    sum: sumOf(board, plan),
    sumProven: proven && bound >= worst,
  });
};

/** Plans of groups that have nothing to do with each other, as one plan of the whole. */
export const joinPlans = (problem: AllotmentProblem, plans: readonly Plan[]): Plan => {
  const most = (of: (plan: Plan) => number) => plans.reduce((high, plan) => Math.max(high, of(plan)), 0);
  return describePlaces(
    problem,
    plans.flatMap(({ places }) => places),
    {
      worst: most(({ worst }) => worst),
      bound: most(({ bound }) => bound),
      settled: plans.flatMap(({ settled }) => settled),
      sum: plans.reduce((total, { sum }) => total + sum, 0),
      sumProven: plans.every(({ sumProven }) => sumProven),
    },
  );
};

const describePlaces = (
  problem: AllotmentProblem,
  places: Plan["places"],
  figures: Pick<Plan, "worst" | "bound" | "settled" | "sum" | "sumProven">,
): Plan => {
  const seen = seenDifferences(problem, places);
  const marks = seenMarks(problem, places);
  const hung = new Set(places.map(({ leaf }) => leaf));
  const filled = new Set(places.map(({ opening, place }) => `${opening} ${place}`));
  return {
    kind: "plan",
    places,
    ...figures,
    worstPair: worstSeen(seen),
    proven: figures.bound >= figures.worst,
    perSpace: problem.spaces.map(({ id }) => {
      const pair = worstSeen(seen.filter(({ space }) => space === id));
      const mark = marks.find(({ space }) => space === id)?.counts ?? 0;
      return { space: id, worst: Math.max(pair?.weighted ?? 0, mark), pair };
    }),
    marks,
    notCompared: seen.filter(({ deltaE }) => deltaE === null).length,
    spare: problem.leaves.filter(({ id, state }) => state === "free" && !hung.has(id)).map(({ id }) => id),
    empty: placesOf(problem)
      .filter(({ opening, place }) => !filled.has(`${opening} ${place}`))
      .map(({ opening, place }) => ({ opening, place })),
  };
};
