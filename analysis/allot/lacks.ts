import type { Lack } from "./allotment.ts";
import type { Board } from "./board.ts";
import { emptyMatching, giveLeaf, type Matching } from "./one-leaf-each.ts";
import { valuesOf } from "./value-sets.ts";

/**
 * Which places get a leaf when those named may stay empty: leaves go to the most important places first, and a place once given
 * a leaf keeps one. Sets of places that can be filled together form a matroid, so this leaves as few empty as any way does,
 * and gives up the least important ones (greedy rule for matroids, from memory). `mayStayEmpty`: first to be given up first.
 */
export const placesToFill = (
  board: Board,
  mayStayEmpty: readonly string[],
): { readonly filled: number[]; readonly empty: number[]; readonly matching: Matching } => {
  const matching = emptyMatching(board.places.length, board.leaves.length, board.words);
  const rank = (place: number): number => mayStayEmpty.indexOf(board.places[place]!.opening);
  const all = board.places.map((_, place) => place);
  const must = all.filter((place) => rank(place) < 0);
  const may = all.filter((place) => rank(place) >= 0).toSorted((a, b) => rank(b) - rank(a) || a - b);
  const filled = [...must, ...may].filter((place) => giveLeaf(matching, board.domains, place));
  const has = new Set(filled);
  return { filled: filled.toSorted((a, b) => a - b), empty: all.filter((place) => !has.has(place)), matching };
};

/**
 * Why the unfilled places cannot be filled: for each group of openings that compete for the same leaves, those openings,
 * those leaves, and how many are missing (the deficient set of Hall's theorem).
 */
export const lacksAt = (board: Board, { leafAt, placeOf }: Matching, unfilled: readonly number[]): Lack[] => {
  const explained = new Set<number>();
  return unfilled.flatMap((start) => {
    if (explained.has(start)) return [];
    const places = new Set([start]);
    const leaves = new Set<number>();
    const grow = () => {
      for (const place of places)
        for (const value of valuesOf(board.domains, place * board.words, board.words)) {
          const leaf = value >>> 1;
          leaves.add(leaf);
          if (placeOf[leaf]! >= 0) places.add(placeOf[leaf]!);
        }
    };
    grow();
    for (const other of unfilled)
      if (
        !places.has(other) &&
        valuesOf(board.domains, other * board.words, board.words).some((value) => leaves.has(value >>> 1))
      ) {
        places.add(other);
        grow();
      }
    for (const place of places) explained.add(place);
    const without = [...places].filter((place) => leafAt[place]! < 0).length;
    return [
      {
        openings: [...new Set([...places].map((place) => board.places[place]!.opening))].toSorted(),
        leaves: [...leaves].map((leaf) => board.leaves[leaf]!.id).toSorted(),
        short: without,
      },
    ];
  });
};
