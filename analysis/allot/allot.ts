import { uniformFrom } from "../algebra/seeded-random.ts";
import type { Allotment, AllotmentProblem, Plan } from "./allotment.ts";
import { type Board, layOut, type Values, worstOf } from "./board.ts";
import { dealByEye, dealSorted } from "./by-hand.ts";
import { faultIn } from "./check-problem.ts";
import { describePlan } from "./describe-plan.ts";
import { lacksAt, placesToFill } from "./lacks.ts";
import { domainsAt, type Limit, levelsBetween, limitAt } from "./limit.ts";
import type { Draw } from "./move.ts";
import { narrow, type Work } from "./narrow.ts";
import { emptyMatching } from "./one-leaf-each.ts";
import { settle } from "./settle.ts";
import { swapUnder } from "./swap-search.ts";
import { type Failures, type Outcome, searchTree, shave } from "./tree-search.ts";

/** How long to go on, in elementary looks (about 100 million a second), and how many exchanges a place for the second objective. */
export interface Effort {
  readonly looks: number;
  readonly settleRounds: number;
}

/** About two seconds at 60 leaves. */
export const standardEffort: Effort = { looks: 2e8, settleRounds: 1000 };

/** How far the search has come: the worst of the best plan so far, and what no plan can better. */
export interface Progress {
  readonly worst: number;
  readonly bound: number;
}

/**
 * Allots leaves and faces to openings so that the largest weighted difference seen in any space is as small as can be,
 * then the sum of all of them. The same problem gives the same plan on any machine, in whatever order its lists stand.
 */
export const allot = (problem: AllotmentProblem, effort: Effort = standardEffort): Allotment => {
  const steps = allotSteps(problem, effort);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
};

/** The same in steps: between them the caller may report, or stop and take the best plan so far by `return`ing `stop` to `next`. */
export function* allotSteps(problem: AllotmentProblem, effort: Effort): Generator<Progress, Allotment, "stop" | undefined> {
  const found = boardFor(problem);
  if (found.kind !== "board") return found;
  const { board } = found;
  const draw = uniformFrom(1);
  let plan = [dealSorted(board), dealByEye(board)].reduce((a, b) => (worstOf(board, b) < worstOf(board, a) ? b : a));
  const work: Work = { left: effort.looks };
  const search = openSearch(board, plan);
  let stopped = false;
  for (const step of close(search, draw, work)) {
    if ((yield step) === "stop") {
      stopped = true;
      break;
    }
  }
  plan = search.plan;
  if (!stopped) plan = settle(board, plan, worstOf(board, plan), draw, effort.settleRounds);
  return describePlan(problem, board, plan, search.levels[search.low] ?? worstOf(board, plan));
}

/** The plan one gets by dealing leaves out sorted by lightness, or by eye: what the best plan is to be compared with. */
export const planByHand = (problem: AllotmentProblem, way: "sorted" | "by-eye"): Allotment => {
  const found = boardFor(problem);
  if (found.kind !== "board") return found;
  return describePlan(problem, found.board, way === "sorted" ? dealSorted(found.board) : dealByEye(found.board), 0);
};

const boardFor = (problem: AllotmentProblem): { readonly kind: "board"; readonly board: Board } | Exclude<Allotment, Plan> => {
  const why = faultIn(problem);
  if (why !== null) return { kind: "refused", why };
  const whole = layOut(problem);
  const { filled, empty, matching } = placesToFill(whole, problem.mayStayEmpty);
  const unfilled = empty.filter((place) => !problem.mayStayEmpty.includes(whole.places[place]!.opening));
  if (unfilled.length === 0) return { kind: "board", board: empty.length === 0 ? whole : layOut(problem, filled.map((place) => whole.places[place]!)) };
  const lacks = lacksAt(whole, matching, unfilled);
  return {
    kind: "impossible",
    lacks,
    openings: lacks.flatMap((lack) => lack.openings.map((opening) => ({ opening, lacks: sayLack(problem, lack) }))),
  };
};

const sayLack = ({ openings }: AllotmentProblem, { openings: rivals, leaves, short }: { openings: readonly string[]; leaves: readonly string[]; short: number }): string => {
  const specs = [...new Set(openings.filter(({ id }) => rivals.includes(id)).map(({ spec }) => spec))].join(", ");
  const has = leaves.length === 0 ? "no leaf can hang there" : `only ${leaves.join(", ")} can hang in ${rivals.join(", ")}`;
  return `${short === 1 ? "1 leaf" : `${short} leaves`} of ${specs}: ${has}`;
};

/** State of the search: the best plan, the possible worst values, and which of them (`low` to `high`) are still open; `high` is the plan's. */
interface SearchState {
  readonly board: Board;
  readonly levels: Float64Array;
  readonly failures: Failures;
  plan: Values;
  low: number;
  high: number;
}

const openSearch = (board: Board, plan: Values): SearchState => {
  const levels = levelsBetween(board, 0, worstOf(board, plan));
  return { board, plan, levels, failures: new Float64Array(plan.length), low: 0, high: levels.length - 1 };
};

const progress = ({ levels, low, high }: SearchState): Progress => ({ worst: levels[high]!, bound: levels[low]! });

const keepPlan = (state: SearchState, plan: Values) => {
  const worst = worstOf(state.board, plan);
  while (state.high > 0 && state.levels[state.high]! > worst) state.high--;
  state.plan = plan;
};

/** Brings bound and plan together, from both sides, until they meet or the work runs out. */
function* close(state: SearchState, draw: Draw, work: Work): Generator<Progress, void> {
  const { board, levels } = state;
  const places = board.places.length;
  raiseBound(state, (limit, level) => narrow(board, limit, domainsAt(board, level), emptyMatching(places, board.leaves.length, board.words), work));
  yield progress(state);
  for (let share = places * 20_000; state.low < state.high && work.left > 0; share *= 2) {
    lowerWorst(state, draw, work, share);
    yield progress(state);
    raiseBound(state, (limit, level) => within(work, share, (some) => shave(board, limit, domainsAt(board, level), some)));
    yield progress(state);
    for (let from = state.low; from < state.high && work.left > 0; ) {
      const middle = from + ((state.high - from) >> 1);
      const outcome = within(work, share, (some) => decide(state, levels[middle]!, some));
      if (outcome === "found") continue;
      if (outcome === "none") state.low = middle + 1;
      from = middle + 1;
    }
    yield progress(state);
    for (let to = state.high; state.low < to && work.left > 0; ) {
      const middle = state.low + ((to - state.low) >> 1);
      const outcome = within(work, share, (some) => decide(state, levels[middle]!, some));
      if (outcome === "none") state.low = middle + 1;
      else to = Math.min(middle, state.high);
    }
    yield progress(state);
  }
}

/** Lets a search have a share of the work; what it does not use goes back. */
const within = <Result>(work: Work, share: number, search: (some: Work) => Result): Result => {
  const some: Work = { left: Math.min(work.left, share) };
  const granted = some.left;
  const result = search(some);
  work.left -= granted - some.left;
  return result;
};

/** Halves the open levels with a test that may say "no plan under this". */
const raiseBound = (state: SearchState, mayStand: (limit: Limit, level: number) => boolean) => {
  for (let to = state.high; state.low < to; ) {
    const middle = state.low + ((to - state.low) >> 1);
    const level = state.levels[middle]!;
    if (mayStand(limitAt(state.board, level), level)) to = middle;
    else state.low = middle + 1;
  }
};

/** Steps the worst of the plan down by exchanges: big steps first, smaller ones when no plan is found. */
const lowerWorst = (state: SearchState, draw: Draw, work: Work, share: number) => {
  for (let step = 0.5; state.low < state.high && work.left > 0; ) {
    const aim = Math.max(state.low, Math.min(state.high - 1, Math.floor(state.high - step * (state.high - state.low))));
    const plan = within(work, share, (some) => swapUnder(state.board, state.plan, state.levels[aim]!, draw, some));
    if (plan) keepPlan(state, plan);
    else if (aim === state.high - 1 || step < 0.02) return;
    else step /= 2;
  }
};

const decide = (state: SearchState, level: number, work: Work): Outcome["kind"] => {
  const { board, failures } = state;
  const limit = limitAt(board, level);
  const sets = domainsAt(board, level);
  if (!shave(board, limit, sets, work)) return "none";
  const outcome = searchTree(board, limit, sets, failures, work);
  if (outcome.kind === "found") keepPlan(state, outcome.plan);
  return outcome.kind;
};
