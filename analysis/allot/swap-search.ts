import { type Board, type Tie, tieWorst, type Values } from "./board.ts";
import { carryOut, type Draw, drawBelow, type Move, placesByLeaf } from "./move.ts";
import type { Work } from "./narrow.ts";
import { has, valuesOf } from "./value-sets.ts";

/**
 * Changes a valid plan by exchanging and turning leaves until no weighted difference passes the limit; null when the work runs out.
 * A move undone lately is not made again, and a pair that stays over the limit counts for more each time no move helps (weighted
 * tabu search, from memory). It can find plans, never show that there is none.
 */
export const swapUnder = (board: Board, start: Values, limit: number, draw: Draw, work: Work): Values | null => {
  const { values, domains, words } = board;
  const plan = start.slice();
  const placeOf = placesByLeaf(board, plan);
  const breaks = countBreaks(board, plan, limit);
  const tabuUntil = new Int32Array(plan.length * values);
  work.left -= breaks.looks();
  let cost = breaks.total();
  let best = cost;
  for (let step = 1; work.left > 0; step++) {
    const place = drawOver(board, plan, breaks.at, draw);
    if (place < 0) return plan;
    const now = plan[place]!;
    let chosen: Move | null = null;
    let least = Number.POSITIVE_INFINITY;
    let alike = 1;
    const consider = (value: number, other: number, otherValue: number) => {
      const change = breaks.change(place, value, other, otherValue);
      if (change > least) return;
      const tabu =
        tabuUntil[place * values + value]! > step || (other >= 0 && tabuUntil[other * values + otherValue]! > step);
      if (tabu && cost + change >= best) return;
      alike = change === least ? alike + 1 : 1;
      if (alike > 1 && drawBelow(draw, alike) > 0) return;
      least = change;
      chosen = { place, value, other, otherValue };
    };
    for (const value of breaks.allowed[place]!) {
      if (value === now) continue;
      const other = placeOf[value >>> 1]!;
      if (other < 0 || other === place) consider(value, -1, -1);
      else {
        if (has(domains, other * words, now)) consider(value, other, now);
        if (has(domains, other * words, now ^ 1)) consider(value, other, now ^ 1);
      }
    }
    work.left -= plan.length + 4 * breaks.allowed[place]!.length;
    if (chosen === null) continue;
    const move: Move = chosen;
    if (least >= 0) {
      cost += breaks.weighMore();
      best = cost;
    }
    const change = breaks.change(place, move.value, move.other, move.otherValue);
    const tenure = step + 5 + drawBelow(draw, 10);
    tabuUntil[place * values + now] = tenure;
    if (move.other >= 0) tabuUntil[move.other * values + plan[move.other]!] = tenure;
    breaks.move(place, move.value);
    if (move.other >= 0) breaks.move(move.other, move.otherValue);
    carryOut(plan, placeOf, move);
    work.left -= breaks.looks();
    cost += change;
    best = Math.min(best, cost);
  }
  return null;
};

/** A place drawn among those that break something; -1 when none does. */
const drawOver = ({ values }: Board, plan: Values, at: Float64Array, draw: Draw): number => {
  let drawn = -1;
  let over = 0;
  for (let place = 0; place < plan.length; place++)
    if (at[place * values + plan[place]!]! > 0 && drawBelow(draw, ++over) === 0) drawn = place;
  return drawn;
};

/**
 * Keeps count of what every value of every place would break, the other places staying as they are: `at[place * values + value]`, by
 * weights that start at 1. Has a copy of the plan of its own.
 */
const countBreaks = (board: Board, start: Values, limit: number) => {
  const { values, aloneWorst, ties, tables, domains, words } = board;
  const plan = start.slice();
  const allowed = Array.from(plan, (_, place) => Int32Array.from(valuesOf(domains, place * words, words)));
  const weights = ties.map((list) => new Float64Array(list.length).fill(1));
  const aloneWeights = new Float64Array(plan.length).fill(1);
  const mirror = ties.map((list, place) =>
    list.map(({ other }) => ties[other]!.findIndex((tie) => tie.other === place)),
  );
  const at = new Float64Array(plan.length * values);
  let looked = 0;
  const broken = (tie: Tie, mine: number, theirs: number): boolean => tieWorst(board, tie, mine, theirs) > limit;
  /** Adds `weight` for every value of the place that this value at the other one breaks the tie with. */
  const addRow = (place: number, { relations }: Tie, theirs: number, weight: number) => {
    const from = place * values;
    const mine = allowed[place]!;
    looked += mine.length;
    if (relations.length === 1) {
      const { mine: side, theirs: otherSide, back } = relations[0]!;
      const table = tables[back]!;
      const row = (theirs ^ otherSide) * values;
      for (let i = 0; i < mine.length; i++) {
        const value = mine[i]!;
        if (table[row + (value ^ side)]! > limit) at[from + value]! += weight;
      }
    } else {
      const tie: Tie = { other: -1, relations };
      for (const value of mine) if (broken(tie, value, theirs)) at[from + value]! += weight;
    }
  };
  const addAlone = (place: number, weight: number) => {
    for (const value of allowed[place]!)
      if (aloneWorst[place * values + value]! > limit) at[place * values + value]! += weight;
  };
  for (const [place, list] of ties.entries()) {
    addAlone(place, 1);
    for (const tie of list) addRow(place, tie, plan[tie.other]!, 1);
  }
  const tieTo = (place: number, other: number): number => ties[place]!.findIndex((tie) => tie.other === other);
  return {
    at,
    allowed,
    /** Looks taken since it was last asked. */
    looks: (): number => {
      const taken = looked;
      looked = 0;
      return taken;
    },
    /** Weight of all that is broken. */
    total: (): number => {
      let sum = 0;
      for (const [place, value] of plan.entries()) {
        if (aloneWorst[place * values + value]! > limit) sum += aloneWeights[place]!;
        for (const [t, tie] of ties[place]!.entries())
          if (tie.other > place && broken(tie, value, plan[tie.other]!)) sum += weights[place]![t]!;
      }
      return sum;
    },
    /** What a move adds to the weight of all that is broken. */
    change: (place: number, value: number, other: number, otherValue: number): number => {
      const now = plan[place]!;
      let change = at[place * values + value]! - at[place * values + now]!;
      if (other < 0) return change;
      const theirs = plan[other]!;
      change += at[other * values + otherValue]! - at[other * values + theirs]!;
      const t = tieTo(place, other);
      if (t < 0) return change;
      const tie = ties[place]![t]!;
      const both =
        Number(broken(tie, now, theirs)) +
        Number(broken(tie, value, otherValue)) -
        Number(broken(tie, value, theirs)) -
        Number(broken(tie, now, otherValue));
      return change + weights[place]![t]! * both;
    },
    move: (place: number, value: number): void => {
      const before = plan[place]!;
      plan[place] = value;
      for (const [t, { other }] of ties[place]!.entries()) {
        const back = ties[other]![mirror[place]![t]!]!;
        const weight = weights[place]![t]!;
        addRow(other, back, before, -weight);
        addRow(other, back, value, weight);
      }
    },
    /** Lets all that is broken weigh 1 more, and says how much that is together. */
    weighMore: (): number => {
      let more = 0;
      for (const [place, value] of plan.entries()) {
        if (at[place * values + value]! === 0) continue;
        if (aloneWorst[place * values + value]! > limit) {
          aloneWeights[place]! += 1;
          addAlone(place, 1);
          more++;
        }
        for (const [t, tie] of ties[place]!.entries()) {
          const { other } = tie;
          if (other < place || !broken(tie, value, plan[other]!)) continue;
          const m = mirror[place]![t]!;
          weights[place]![t]! += 1;
          weights[other]![m]! += 1;
          addRow(place, tie, plan[other]!, 1);
          addRow(other, ties[other]![m]!, value, 1);
          more++;
        }
      }
      return more;
    },
  };
};
