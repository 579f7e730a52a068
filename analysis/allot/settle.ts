import { type Board, sumOf, tieSum, tieWorst, type Values } from "./board.ts";

import { carryOut, type Draw, drawMove, placesByLeaf } from "./move.ts";

/**
 * Lowers the sum of all weighted differences of a plan while none passes `cap`; gives the best plan met, never one worse than the start.
 * Exchanges are taken when they add no more than an allowance that shrinks to nothing (threshold accepting, from memory: no logarithm,
 * so the same on any machine). `rounds`: how many exchanges are tried for each place.
 */
export const settle = (board: Board, start: Values, cap: number, draw: Draw, rounds: number): Values => {
  const { values, aloneSum, aloneWorst, ties } = board;
  const plan = start.slice();
  const placeOf = placesByLeaf(board, plan);
  const steps = rounds * plan.length;
  let sum = sumOf(board, plan);
  let best = plan.slice();
  let least = sum;
  const pairs = Math.max(1, ties.reduce((count, list) => count + list.length, 0) / 2);
  const firstAllowance = sum / pairs;
  /** What the place adds to the sum with this value, infinite when it passes the cap. */
  const costAt = (place: number, value: number, other: number, otherValue: number, skip: number): number => {
    const alone = place * values + value;
    if (aloneWorst[alone]! > cap) return Number.POSITIVE_INFINITY;
    let cost = aloneSum[alone]!;
    for (const tie of ties[place]!) {
      if (tie.other === skip) continue;
      const theirs = tie.other === other ? otherValue : plan[tie.other]!;
      if (tieWorst(board, tie, value, theirs) > cap) return Number.POSITIVE_INFINITY;
      cost += tieSum(board, tie, value, theirs);
    }
    return cost;
  };
  for (let step = 0; step < steps; step++) {
    const allowance = firstAllowance * (1 - step / steps) ** 2;
    const move = drawMove(board, plan, placeOf, draw);
    if (!move) continue;
    const { place, value, other, otherValue } = move;
    let change = costAt(place, value, other, otherValue, -1) - costAt(place, plan[place]!, -1, -1, -1);
    if (other >= 0 && change < Number.POSITIVE_INFINITY)
      change += costAt(other, otherValue, place, value, place) - costAt(other, plan[other]!, -1, -1, place);
    if (change > allowance) continue;
    carryOut(plan, placeOf, move);
    sum += change;
    if (sum < least - 1e-9) {
      least = sum;
      best = plan.slice();
    }
  }
  return best;
};
