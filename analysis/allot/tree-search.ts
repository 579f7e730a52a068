import type { Board, Values } from "./board.ts";
import type { Limit } from "./limit.ts";
import { narrow, type Work } from "./narrow.ts";
import { emptyMatching } from "./one-leaf-each.ts";
import { countBits, firstValue, keepOnly, remove, type ValueSets, valuesOf } from "./value-sets.ts";

/** A plan under the limit, or the certainty that there is none, or neither within the work given. */
export type Outcome =
  | { readonly kind: "found"; readonly plan: Values }
  | { readonly kind: "none" }
  | { readonly kind: "undecided" };

/** How often each place ran out of leaves: places that fail often are filled first. Grows from one search to the next. */
export type Failures = Float64Array;

/**
 * Searches for a plan under the limit by trying values and narrowing after each, the tightest place first.
 * `sets` must be narrowed already; they are left as they are.
 */
export const searchTree = (board: Board, limit: Limit, sets: ValueSets, failures: Failures, work: Work): Outcome => {
  const { places, words } = board;
  const matching = emptyMatching(places.length, board.leaves.length, words);
  const dive = (open: ValueSets): Outcome => {
    for (;;) {
      const place = tightest(board, open, failures);
      if (place < 0)
        return { kind: "found", plan: Int32Array.from(places, (_, at) => firstValue(open, at * words, words)) };
      if (work.left <= 0) return { kind: "undecided" };
      const value = mostSupported(board, limit, open, place, work);
      const below = open.slice();
      keepOnly(below, place * words, words, value);
      if (narrow(board, limit, below, matching, work, [place])) {
        const outcome = dive(below);
        if (outcome.kind !== "none") return outcome;
      } else failures[place]! += 1;
      remove(open, place * words, value);
      if (!narrow(board, limit, open, matching, work, [place])) {
        failures[place]! += 1;
        return { kind: "none" };
      }
    }
  };
  return dive(sets.slice());
};

/** The place with the fewest values for its record of failures; -1 when every place has one value. */
const tightest = ({ places, words, ties }: Board, sets: ValueSets, failures: Failures): number => {
  let best = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let place = 0; place < places.length; place++) {
    let count = 0;
    for (let w = 0; w < words; w++) count += countBits(sets[place * words + w]!);
    if (count <= 1) continue;
    const score = count / (1 + failures[place]! + ties[place]!.length / 100);
    if (score < least) {
      least = score;
      best = place;
    }
  }
  return best;
};

/** The value that leaves the neighbours the most room. */
const mostSupported = (
  { ties, words }: Board,
  { rows, turned }: Limit,
  sets: ValueSets,
  place: number,
  work: Work,
): number => {
  let best = -1;
  let most = Number.NEGATIVE_INFINITY;
  for (const value of valuesOf(sets, place * words, words)) {
    let room = 0;
    for (const { other, relations } of ties[place]!) {
      let count = 0;
      let all = 0;
      for (let w = 0; w < words; w++) {
        let both = sets[other * words + w]!;
        all += countBits(both);
        for (const { mine, theirs, table } of relations)
          both &= (theirs === 0 ? rows : turned)[table]![(value ^ mine) * words + w]!;
        count += countBits(both);
      }
      room += count / all;
    }
    work.left -= ties[place]!.length * words;
    if (room > most) {
      most = room;
      best = value;
    }
  }
  return best;
};
