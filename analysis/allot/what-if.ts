import { allot, type Effort, standardEffort } from "./allot.ts";
import type { Allotment, AllotmentProblem, Ban, Lock, Plan } from "./allotment.ts";
import { type Before, type FewMoves, fewestMoves } from "./fewest-moves.ts";

/** What one would like to try: leaves held in an opening, leaves kept out. A new lock of a leaf takes the place of its old one. */
export interface Wish {
  readonly locks: readonly Lock[];
  readonly bans: readonly Ban[];
}

export type WhatIf =
  | {
      readonly kind: "what-if";
      /** The best plan as things are, and the best with the wish. */
      readonly now: Plan;
      readonly wished: Plan;
      /** What the wish costs the best plan: of its worst difference (below nothing only where one of the two is not proven), of the sum. */
      readonly costs: { readonly worst: number; readonly sum: number };
      /** The plan with the wish that changes as little as it can of the one before, for the loss stated. */
      readonly least: FewMoves;
    }
  | Exclude<Allotment, Plan>;

/** What changes if this is locked or banned: what it costs, and which leaves move when as few move as can for that loss (ΔE00). */
export const whatIf = (
  problem: AllotmentProblem,
  before: Before,
  wish: Wish,
  loss: number,
  effort: Effort = standardEffort,
): WhatIf => {
  const now = allot(problem, effort);
  if (now.kind !== "plan") return now;
  const asked = wishFor(problem, wish);
  const wished = allot(asked, effort);
  if (wished.kind !== "plan") return wished;
  const moves = fewestMoves(asked, before, loss, effort);
  if (moves.kind !== "moves") return moves;
  const costs = { worst: wished.worst - now.worst, sum: wished.sum - now.sum };
  return { kind: "what-if", now, wished, costs, least: moves.chosen };
};

const wishFor = (problem: AllotmentProblem, { locks, bans }: Wish): AllotmentProblem => ({
  ...problem,
  locks: [...problem.locks.filter(({ leaf }) => !locks.some((lock) => lock.leaf === leaf)), ...locks],
  bans: [...problem.bans, ...bans],
});
