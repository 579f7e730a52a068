import { type Board, sumOf, tieSum, type Values } from "./board.ts";
import { domainsAt, limitAt } from "./limit.ts";
import { narrow, type Work } from "./narrow.ts";
import { emptyMatching } from "./one-leaf-each.ts";
import { countValues, firstValue, keepOnly, remove, type ValueSets, valuesOf } from "./value-sets.ts";

/**
 * The plan with the least sum of weighted differences (on the board `sums`) among those with none over `cap`, by branch and bound from the plan given.
 * `proven` says that the search was finished within the work; if not, the plan is the best met. Made for a dozen leaves.
 */
export const leastSum = (
  board: Board,
  start: Values,
  cap: number,
  work: Work,
  sums: Board = board,
): { readonly plan: Values; readonly proven: boolean } => {
  const { places, words, leaves } = board;
  const limit = limitAt(board, cap);
  const root = domainsAt(board, cap);
  const matching = emptyMatching(places.length, leaves.length, words);
  if (!narrow(board, limit, root, matching, work)) return { plan: start, proven: true };
  work.left -= looksForTies(sums, root);
  if (work.left <= 0) return { plan: start, proven: false };
  const floors = leastTies(sums, root);
  let best = start;
  let least = sumOf(sums, start) - 1e-9;
  const dive = (sets: ValueSets): boolean => {
    for (;;) {
      if (work.left <= 0) return false;
      const { bound, place, value } = shares(sums, sets, floors, work);
      if (bound >= least) return true;
      if (place < 0) {
        best = Int32Array.from(places, (_, at) => firstValue(sets, at * words, words));
        least = sumOf(sums, best) - 1e-9;
        return true;
      }
      const below = sets.slice();
      keepOnly(below, place * words, words, value);
      if (narrow(board, limit, below, matching, work, [place]) && !dive(below)) return false;
      remove(sets, place * words, value);
      if (!narrow(board, limit, sets, matching, work, [place])) return true;
    }
  };
  const proven = dive(root);
  return { plan: best, proven };
};

/** For each place and tie and value: the least the tie can add, whatever stands at the other place. `[place][tie][value]` */
type Floors = readonly (readonly Float64Array[])[];

const looksForTies = ({ ties, words }: Board, sets: ValueSets): number => {
  const counts = ties.map((_, place) => countValues(sets, place * words, words));
  return ties.reduce(
    (looks, list, place) => list.reduce((sum, { other }) => sum + counts[place]! * counts[other]!, looks),
    0,
  );
};

const leastTies = (board: Board, sets: ValueSets): Floors =>
  board.ties.map((ties, place) =>
    ties.map((tie) => {
      const floor = new Float64Array(board.values).fill(Number.POSITIVE_INFINITY);
      const theirs = valuesOf(sets, tie.other * board.words, board.words);
      for (const value of valuesOf(sets, place * board.words, board.words))
        for (const other of theirs)
          if (other >>> 1 !== value >>> 1) floor[value] = Math.min(floor[value]!, tieSum(board, tie, value, other));
      return floor;
    }),
  );

/**
 * What the sum cannot fall below: each place answers for half of its ties, at the least its values allow. Exact when every place has one
 * value. With it the open place that has the fewest values (-1: none) and its cheapest value.
 */
const shares = (board: Board, sets: ValueSets, floors: Floors, work: Work) => {
  const { places, words, ties, values, aloneSum } = board;
  const only = Array.from(places, (_, at) => {
    const list = valuesOf(sets, at * words, words);
    return list.length === 1 ? list[0]! : -1;
  });
  let bound = 0;
  let tightest = { place: -1, value: -1, count: Number.POSITIVE_INFINITY };
  for (let place = 0; place < places.length; place++) {
    const list = valuesOf(sets, place * words, words);
    let least = Number.POSITIVE_INFINITY;
    let cheapest = -1;
    for (const value of list) {
      let share = aloneSum[place * values + value]!;
      for (const [t, tie] of ties[place]!.entries()) {
        const theirs = only[tie.other]!;
        share += (theirs < 0 ? floors[place]![t]![value]! : tieSum(board, tie, value, theirs)) / 2;
      }
      if (share < least) {
        least = share;
        cheapest = value;
      }
    }
    work.left -= list.length * ties[place]!.length;
    bound += least;
    if (list.length > 1 && list.length < tightest.count) tightest = { place, value: cheapest, count: list.length };
  }
  return { bound, place: tightest.place, value: tightest.value };
};
