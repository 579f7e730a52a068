import { type Board, tieWorst, type Values } from "./board.ts";
import { emptyMatching, matchAll } from "./one-leaf-each.ts";
import { keepOnly, remove, valuesOf } from "./value-sets.ts";

/** Places in the order one walks: space by space, and in each the places not dealt yet. */
const walk = ({ places }: Board): number[] => {
  const spaces = [...new Set(places.flatMap(({ spaces }) => spaces))].filter((space) => space !== null).toSorted();
  const inSpace = spaces.flatMap((space) =>
    [...places.keys()].filter((place) => places[place]!.spaces.includes(space)),
  );
  return [...new Set([...inSpace, ...places.keys()])];
};

const lightness = ({ leaves }: Board, leaf: number): number => {
  const { A, B } = leaves[leaf]!.faces;
  return A.lightness === null || B.lightness === null ? Number.NEGATIVE_INFINITY : (A.lightness + B.lightness) / 2;
};

/**
 * Fills the places in walking order, each with the first value of `rank` that still leaves every other place a leaf.
 * The board must have a complete matching.
 */
const fill = (
  board: Board,
  rank: (place: number, values: readonly number[], plan: Values) => readonly number[],
): Values => {
  const { words } = board;
  const plan = new Int32Array(board.places.length).fill(-1);
  let sets = board.domains.slice();
  for (const place of walk(board))
    for (const value of rank(place, valuesOf(sets, place * words, words), plan)) {
      const left = sets.slice();
      for (const other of board.places.keys())
        for (const turn of [0, 1]) if (other !== place) remove(left, other * words, 2 * (value >>> 1) + turn);
      keepOnly(left, place * words, words, value);
      if (!matchAll(emptyMatching(board.places.length, board.leaves.length, words), left)) continue;
      plan[place] = value;
      sets = left;
      break;
    }
  return plan;
};

/** Largest weighted difference the value has with what hangs already. */
const worstWith = (board: Board, plan: Values, place: number, value: number): number => {
  let worst = board.aloneWorst[place * board.values + value]!;
  for (const tie of board.ties[place]!)
    if (plan[tie.other]! >= 0) worst = Math.max(worst, tieWorst(board, tie, value, plan[tie.other]!));
  return worst;
};

/** Sorted and dealt: leaves from light to dark, dealt out space by space, each turned the way that suits those before it. */
export const dealSorted = (board: Board): Values =>
  fill(board, (place, values, plan) =>
    values.toSorted(
      (a, b) =>
        (a >>> 1 === b >>> 1 ? 0 : lightness(board, b >>> 1) - lightness(board, a >>> 1)) ||
        (a >>> 1) - (b >>> 1) ||
        worstWith(board, plan, place, a) - worstWith(board, plan, place, b) ||
        a - b,
    ),
  );

/** By eye: space by space, the leaf that goes best with those that hang there already. No eye is this exact. */
export const dealByEye = (board: Board): Values =>
  fill(board, (place, values, plan) => {
    const cost = new Map(values.map((value) => [value, worstWith(board, plan, place, value)]));
    return values.toSorted((a, b) => cost.get(a)! - cost.get(b)! || a - b);
  });
