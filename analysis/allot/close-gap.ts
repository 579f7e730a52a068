import { type Board, type Values, worstOf } from "./board.ts";
import { searchClashes } from "./clash-search.ts";
import { domainsAt, type Limit, levelsBetween, limitAt } from "./limit.ts";
import type { Draw } from "./move.ts";
import { narrow, type Work } from "./narrow.ts";
import { emptyMatching } from "./one-leaf-each.ts";
import { shave } from "./shave.ts";
import { swapUnder } from "./swap-search.ts";
import type { Outcome } from "./tree-search.ts";

/** The best plan so far, every value its worst may have, and which of them are still open: `low` is the bound, `high` the plan's. */
export interface SearchState {
  readonly board: Board;
  readonly levels: Float64Array;
  plan: Values;
  low: number;
  high: number;
}

/** Starts from a valid plan. */
export const openSearch = (board: Board, plan: Values): SearchState => {
  const levels = levelsBetween(board, 0, worstOf(board, plan));
  return { board, plan, levels, low: 0, high: levels.length - 1 };
};

/** Largest weighted difference of the best plan so far, and what no plan can better. */
export interface Progress {
  readonly worst: number;
  readonly bound: number;
}

const progress = ({ levels, low, high }: SearchState): Progress => ({ worst: levels[high]!, bound: levels[low]! });

const keepPlan = (state: SearchState, plan: Values) => {
  const worst = worstOf(state.board, plan);
  while (state.high > 0 && state.levels[state.high]! > worst) state.high--;
  state.plan = plan;
};

/** Looks a place in the first round of trying; every round has twice as many. */
const firstShare = 500;

/**
 * Brings bound and plan together, from both sides, until they meet or the work runs out. The worst of a plan is one of finitely many
 * levels; each is settled by a plan under it or by showing that there is none. Cheap tests first, then ever larger shares of work. The
 * level just below the plan has the most: when there is none under it, the plan is best.
 */
export function* closeGap(state: SearchState, draw: Draw, work: Work): Generator<Progress, void> {
  const { board, levels } = state;
  const places = board.places.length;
  yield progress(state);
  raiseBound(state, (limit, level) =>
    narrow(board, limit, domainsAt(board, level), emptyMatching(places, board.leaves.length, board.words), work),
  );
  yield progress(state);
  for (let share = places * firstShare; state.low < state.high && work.left > 0; share *= 2) {
    lowerWorst(state, draw, work, share);
    yield progress(state);
    for (let outcome: Outcome["kind"] = "found"; outcome === "found" && state.low < state.high; ) {
      outcome = within(work, 4 * share, (some) => decide(state, levels[state.high - 1]!, some));
      if (outcome === "none") state.low = state.high;
      yield progress(state);
    }
    for (let to = state.high - 1; state.low < to && work.left > 0; ) {
      const middle = state.low + ((to - state.low) >> 1);
      const outcome = within(work, share, (some) => decide(state, levels[middle]!, some));
      if (outcome === "none") state.low = middle + 1;
      else to = Math.min(middle, state.high);
      yield progress(state);
    }
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

/** Half of the work at most goes into dropping values, the rest into learning from clashes. */
const decide = (state: SearchState, level: number, work: Work): Outcome["kind"] => {
  const { board } = state;
  work.left -= (board.tables.length * board.values ** 2) / 4;
  const limit = limitAt(board, level);
  const sets = domainsAt(board, level);
  if (!within(work, work.left / 2, (some) => shave(board, limit, sets, some))) return "none";
  const outcome = searchClashes(board, limit, sets, work);
  if (outcome.kind === "found") keepPlan(state, outcome.plan);
  return outcome.kind;
};
