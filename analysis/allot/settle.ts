import { type Board, sumOf, tieSum, tieWorst, type Values } from "./board.ts";
import { carryOut, type Draw, drawMove, type Move, placesByLeaf } from "./move.ts";

/** What is to be lowered, where it is not the sum on the board that keeps the cap. */
export interface Aim {
  /** The board whose sum counts. */
  readonly board: Board;
  /** Spaces whose largest difference passes it are kept few, before the sum. */
  readonly tolerance: number;
}

/** Pairs of faces a space over the tolerance weighs as much as: enough to be worth exchanging a leaf or two for it. */
const pairsForSpace = 4;

/**
 * Lowers the sum of all weighted differences of a plan while none passes `cap`; gives the best plan met, never one worse than the start.
 * Exchanges are taken when they add no more than an allowance that shrinks to nothing (threshold accepting, from memory: no logarithm,
 * so the same on any machine). `rounds`: how many exchanges are tried for each place.
 */
export const settle = (
  board: Board,
  start: Values,
  cap: number,
  draw: Draw,
  rounds: number,
  aim: Aim = { board, tolerance: Number.POSITIVE_INFINITY },
): Values => {
  const { values, aloneWorst, ties } = board;
  const { aloneSum } = aim.board;
  const plan = start.slice();
  const placeOf = placesByLeaf(board, plan);
  const steps = Math.round(rounds * plan.length);
  let sum = sumOf(aim.board, plan);
  const pairs = Math.max(1, ties.reduce((count, list) => count + list.length, 0) / 2);
  const firstAllowance = sum / pairs;
  const spaces = countSpacesOver(aim, plan);
  const forSpace = pairsForSpace * firstAllowance;
  let best = plan.slice();
  let least = { over: spaces.over(), sum };
  /** What the place adds to the sum with this value, infinite when it passes the cap. */
  const costAt = (place: number, value: number, other: number, otherValue: number, skip: number): number => {
    const alone = place * values + value;
    if (aloneWorst[alone]! > cap) return Number.POSITIVE_INFINITY;
    let cost = aloneSum[alone]!;
    for (const tie of ties[place]!) {
      if (tie.other === skip) continue;
      const theirs = tie.other === other ? otherValue : plan[tie.other]!;
      if (tieWorst(board, tie, value, theirs) > cap) return Number.POSITIVE_INFINITY;
      cost += tieSum(aim.board, tie, value, theirs);
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
    if (change > allowance + forSpace * spaces.most) continue;
    if (change + forSpace * spaces.count(plan, move, 1) > allowance) {
      spaces.count(plan, move, -1);
      continue;
    }
    carryOut(plan, placeOf, move);
    sum += change;
    const over = spaces.over();
    if (over < least.over || (over === least.over && sum < least.sum - 1e-9)) {
      least = { over, sum };
      best = plan.slice();
    }
  }
  return best;
};

/** In how many spaces something passes the tolerance. */
export const spacesOver = (aim: Aim, plan: Values): number => countSpacesOver(aim, plan).over();

/** Keeps count of the spaces in which something passes the tolerance. `most`: how many of them a move can change. */
const countSpacesOver = ({ board, tolerance }: Aim, start: Values) => {
  const { ties, tables, alone, values } = board;
  if (tolerance === Number.POSITIVE_INFINITY) return { most: 0, over: () => 0, count: () => 0 };
  const numbers = new Map<string, number>();
  const numberOf = (space: string): number => {
    const number = numbers.get(space) ?? numbers.size;
    numbers.set(space, number);
    return number;
  };
  const aloneIn = alone.map((list) => list.map(({ space }) => numberOf(space)));
  const tieIn = ties.map((list) => list.map(({ relations }) => relations.map(({ space }) => numberOf(space))));
  const counts = new Int32Array(numbers.size);
  let over = 0;
  const add = (space: number, by: number) => {
    if (counts[space] === 0) over++;
    counts[space]! += by;
    if (counts[space] === 0) over--;
  };
  /** Adds `by` for all that passes the tolerance at the place, but for its ties to places before `from` and to `skip`. */
  const addAt = (plan: Values, place: number, from: number, skip: number, by: number) => {
    const value = plan[place]!;
    for (const [i, { costs }] of alone[place]!.entries()) if (costs[value]! > tolerance) add(aloneIn[place]![i]!, by);
    for (const [t, { other, relations }] of ties[place]!.entries()) {
      if (other < from || other === skip) continue;
      for (const [r, { mine, theirs, table }] of relations.entries())
        if (tables[table]![(value ^ mine) * values + (plan[other]! ^ theirs)]! > tolerance)
          add(tieIn[place]![t]![r]!, by);
    }
  };
  const addMoved = (plan: Values, { place, other }: Move, by: number) => {
    addAt(plan, place, 0, -1, by);
    if (other >= 0) addAt(plan, other, 0, place, by);
  };
  for (const place of start.keys()) addAt(start, place, place, -1, 1);
  return {
    most: 4,
    over: (): number => over,
    /** Counts a move of the plan in (1), or out again (-1); gives how many spaces more are over. The plan stays as it is. */
    count: (plan: Values, move: Move, by: number): number => {
      const before = over;
      const [now, otherNow] = [plan[move.place]!, plan[move.other]];
      addMoved(plan, move, -by);
      plan[move.place] = move.value;
      if (otherNow !== undefined) plan[move.other] = move.otherValue;
      addMoved(plan, move, by);
      plan[move.place] = now;
      if (otherNow !== undefined) plan[move.other] = otherNow;
      return over - before;
    },
  };
};
