import { alikePlaces } from "./alike-places.ts";
import type { Board } from "./board.ts";
import { searchClauses, type TakeClashes } from "./clause-search.ts";
import type { Limit } from "./limit.ts";
import type { Work } from "./narrow.ts";
import { emptyMatching, leavesPassedOn, matchAll } from "./one-leaf-each.ts";
import type { Outcome } from "./tree-search.ts";
import { has, type ValueSets, valuesOf } from "./value-sets.ts";

/**
 * Searches for a plan under the limit by learning from clashes: a variable for each value of each place, of which any two that may not
 * stand together clash. Of places that are alike the first takes the first leaf, as any other order is the same plan.
 * `sets` should be narrowed already; they are left as they are.
 */
export const searchClashes = (board: Board, limit: Limit, sets: ValueSets, work: Work): Outcome => {
  const { places, words, leaves } = board;
  const width = 32 * words;
  const matching = emptyMatching(places.length, leaves.length, words);
  if (!matchAll(matching, sets)) return { kind: "none" };
  const ofPlace = places.map((_, place) => valuesOf(sets, place * words, words).map((value) => place * width + value));
  const ofLeaf: number[][] = leaves.map(() => []);
  for (const variable of ofPlace.flat()) ofLeaf[(variable % width) >>> 1]!.push(variable);
  const maySpare = leavesPassedOn(matching, sets);
  const mustHang = ofLeaf.filter((_, leaf) => !has(maySpare, 0, 2 * leaf));
  const placesOfLeaf = ofLeaf.map((list) => [...new Set(list.map((variable) => Math.floor(variable / width)))]);
  const choice = searchClauses(
    {
      variables: sets,
      eachClash: clashesOf(board, limit, placesOfLeaf, alikePlaces(board)),
      oneOf: [...ofPlace, ...mustHang],
    },
    work,
  );
  if (choice.kind !== "found") return choice;
  return { kind: "found", plan: Int32Array.from(choice.yes, (variable) => variable % width) };
};

/**
 * The values that may not stand with one: the others of its place, the leaf elsewhere, leaves out of order at places that are alike, and
 * what passes the limit beside it.
 */
const clashesOf =
  (
    { words, ties }: Board,
    { rows, turned }: Limit,
    placesOfLeaf: readonly (readonly number[])[],
    alike: readonly (readonly number[])[],
  ) =>
  (variable: number, open: ValueSets, take: TakeClashes): void => {
    const place = Math.floor(variable / (32 * words));
    const value = variable - place * 32 * words;
    for (let w = 0; w < words; w++) {
      const word = place * words + w;
      const bits = w === value >>> 5 ? open[word]! & ~(1 << (value & 31)) : open[word]!;
      if (bits !== 0 && !take(word, bits)) return;
    }
    const leaf = value >>> 1;
    for (const other of placesOfLeaf[leaf]!) {
      const word = other * words + (leaf >>> 4);
      const bits = open[word]! & (3 << ((leaf & 15) * 2));
      if (other !== place && bits !== 0 && !take(word, bits)) return;
    }
    const first = leaf >>> 4;
    const below = (1 << ((leaf & 15) * 2)) - 1;
    for (const other of alike[place]!) {
      if (other === place) continue;
      const [from, to, edge] = other > place ? [0, first, below] : [first, words - 1, ~below];
      for (let w = from; w <= to; w++) {
        const word = other * words + w;
        const bits = w === first ? open[word]! & edge : open[word]!;
        if (bits !== 0 && !take(word, bits)) return;
      }
    }
    for (const { other, relations } of ties[place]!)
      for (let w = 0; w < words; w++) {
        const word = other * words + w;
        if (open[word] === 0) continue;
        let allowed = -1;
        for (const { mine, theirs, table } of relations)
          allowed &= (theirs === 0 ? rows : turned)[table]![(value ^ mine) * words + w]!;
        const bits = open[word]! & ~allowed;
        if (bits !== 0 && !take(word, bits)) return;
      }
  };
