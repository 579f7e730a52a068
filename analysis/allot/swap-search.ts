import { type Board, type Tie, tieWorst, type Values } from "./board.ts";

import { carryOut, type Draw, drawBelow, eachMove, type Move, placesByLeaf } from "./move.ts";
import type { Work } from "./narrow.ts";

/** A tie between two places, counted once, with the weight of its being broken. */
interface Watched {
  readonly one: number;
  readonly tie: Tie;
  weight: number;
}

/**
 * Changes a valid plan by exchanging and turning leaves until no weighted difference passes the limit; null when the work runs out.
 * A move undone lately is not made again, and a pair that stays over the limit counts for more each time no move helps (weighted
 * tabu search, from memory). It can find plans, never show that there is none.
 */
export const swapUnder = (board: Board, start: Values, limit: number, draw: Draw, work: Work): Values | null => {
  const { values, aloneWorst } = board;
  const plan = start.slice();
  const placeOf = placesByLeaf(board, plan);
  const watched = watchTies(board);
  const aloneWeight = new Float64Array(plan.length).fill(1);
  const tabuUntil = new Int32Array(plan.length * values);
  const broken = ({ one, tie }: Watched): boolean => tieWorst(board, tie, plan[one]!, plan[tie.other]!) > limit;
  const aloneCost = (place: number, value: number): number =>
    aloneWorst[place * values + value]! > limit ? aloneWeight[place]! : 0;
  /** What the place breaks with this value while `other` has `otherValue`; the tie to `skip` is left out. */
  const costAt = (place: number, value: number, other: number, otherValue: number, skip: number): number => {
    let cost = aloneCost(place, value);
    for (const { tie, weight } of watched.at[place]!) {
      if (tie.other === skip) continue;
      const theirs = tie.other === other ? otherValue : plan[tie.other]!;
      if (tieWorst(board, tie, value, theirs) > limit) cost += weight.weight;
    }
    return cost;
  };
  let cost = watched.all.filter(broken).length;
  for (const [place, value] of plan.entries()) cost += aloneCost(place, value);
  let best = cost;
  for (let step = 1; work.left > 0; step++) {
    const over = placesOver(watched.all, broken, plan, aloneCost);
    if (over.length === 0) return plan;
    const place = over[drawBelow(draw, over.length)]!;
    const now = plan[place]!;
    const costNow = costAt(place, now, -1, -1, -1);
    let chosen: Move | null = null;
    let least = Number.POSITIVE_INFINITY;
    let alike = 1;
    let looks = 0;
    eachMove(board, plan, placeOf, place, (value, other, otherValue) => {
      let change = costAt(place, value, other, otherValue, -1) - costNow;
      looks++;
      if (other >= 0)
        change += costAt(other, otherValue, place, value, place) - costAt(other, plan[other]!, -1, -1, place);
      const tabu =
        tabuUntil[place * values + value]! > step || (other >= 0 && tabuUntil[other * values + otherValue]! > step);
      if ((tabu && cost + change >= best) || change > least) return;
      alike = change === least ? alike + 1 : 1;
      if (alike > 1 && drawBelow(draw, alike) > 0) return;
      least = change;
      chosen = { place, value, other, otherValue };
    });
    work.left -= looks * watched.at[place]!.length * 3 + watched.all.length;
    if (chosen === null) continue;
    const move: Move = chosen;
    if (least >= 0) {
      for (const pair of watched.all)
        if (broken(pair)) {
          pair.weight++;
          cost++;
        }
      for (const [at, value] of plan.entries())
        if (aloneCost(at, value) > 0) {
          aloneWeight[at]!++;
          cost++;
        }
      best = cost;
    }
    const tenure = step + 5 + drawBelow(draw, 10);
    tabuUntil[place * values + now] = tenure;
    if (move.other >= 0) tabuUntil[move.other * values + plan[move.other]!] = tenure;
    carryOut(plan, placeOf, move);
    cost = watched.all.reduce((sum, pair) => sum + (broken(pair) ? pair.weight : 0), 0);
    for (const [at, value] of plan.entries()) cost += aloneCost(at, value);
    best = Math.min(best, cost);
  }
  return null;
};

/** Every tie once, and at each place those it takes part in, seen from there. */
const watchTies = ({ ties }: Board) => {
  const all: Watched[] = [];
  const at: { tie: Tie; weight: Watched }[][] = ties.map(() => []);
  for (const [one, list] of ties.entries())
    for (const tie of list) {
      if (tie.other < one) continue;
      const watched: Watched = { one, tie, weight: 1 };
      all.push(watched);
      at[one]!.push({ tie, weight: watched });
      at[tie.other]!.push({ tie: ties[tie.other]!.find(({ other }) => other === one)!, weight: watched });
    }
  return { all, at };
};

/** Places with a broken tie, or over the limit by themselves; a place stands once for each. */
const placesOver = (
  ties: readonly Watched[],
  broken: (tie: Watched) => boolean,
  plan: Values,
  aloneCost: (place: number, value: number) => number,
): number[] => {
  const over: number[] = [];
  for (const watched of ties) if (broken(watched)) over.push(watched.one, watched.tie.other);
  for (const [place, value] of plan.entries()) if (aloneCost(place, value) > 0) over.push(place);
  return over;
};
