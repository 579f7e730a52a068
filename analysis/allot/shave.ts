import type { Board } from "./board.ts";
import { canAllMeet, type Pool, pooledCouples } from "./couples.ts";
import type { Limit } from "./limit.ts";
import { narrow, type Work } from "./narrow.ts";
import { emptyMatching } from "./one-leaf-each.ts";
import { countBits, countValues, has, keepOnly, remove, type ValueSets, valuesOf } from "./value-sets.ts";

/** A value of a place and how many values the place seen with it that has the fewest leaves it. */
interface Candidate {
  readonly place: number;
  readonly value: number;
  readonly support: number;
}

/**
 * Tries values of places by themselves and drops those that narrow to nothing ("shaving"), in place: those first that leave a place
 * seen with them the least to choose from, as they fail most often, and ever more of them while none fails. A value of a couple also
 * fails when it leaves too few pairs of leaves that may meet.
 * False when a place is left empty: no plan stands under the limit. True says nothing more.
 */
export const shave = (board: Board, limit: Limit, sets: ValueSets, work: Work): boolean => {
  const { places, words } = board;
  const matching = emptyMatching(places.length, board.leaves.length, words);
  if (!narrow(board, limit, sets, matching, work)) return false;
  const pools = pooledCouples(board, sets);
  if (!pools.every((pool) => canAllMeet(board, limit, sets, pool, work))) return false;
  const poolAt = new Map<number, Pool>(
    pools.flatMap((pool) => pool.flatMap(({ one, tie }) => [one, tie.other].map((place) => [place, pool] as const))),
  );
  const stands = (trial: ValueSets, place: number): boolean => {
    const pool = poolAt.get(place);
    return (
      narrow(board, limit, trial, matching, work, [place]) &&
      (pool === undefined || canAllMeet(board, limit, trial, pool, work))
    );
  };
  for (let [tried, most] = [0, 4]; ; ) {
    const all = candidates(board, limit, sets, work);
    let dropped = false;
    for (const { place, value, support } of all) {
      if (support > most) break;
      if (work.left <= 0) return true;
      if (support <= tried && !dropped) continue;
      if (!has(sets, place * words, value)) continue;
      const trial = sets.slice();
      keepOnly(trial, place * words, words, value);
      if (stands(trial, place)) continue;
      remove(sets, place * words, value);
      if (!stands(sets, place)) return false;
      dropped = true;
    }
    if (dropped) tried = 0;
    else if (all.every(({ support }) => support <= most)) return true;
    else {
      tried = most;
      most *= 2;
    }
  }
};

/** Every value that has another beside it at its place, the least supported first. */
const candidates = ({ ties, places, words }: Board, { rows, turned }: Limit, sets: ValueSets, work: Work) => {
  const all: Candidate[] = [];
  for (let place = 0; place < places.length; place++) {
    const values = valuesOf(sets, place * words, words);
    if (values.length === 1) continue;
    for (const value of values) {
      let support = Number.POSITIVE_INFINITY;
      for (const { other, relations } of ties[place]!) {
        if (countValues(sets, other * words, words) === 1) continue;
        let count = 0;
        for (let w = 0; w < words; w++) {
          let both = sets[other * words + w]!;
          if (both === 0) continue;
          for (const { mine, theirs, table } of relations)
            both &= (theirs === 0 ? rows : turned)[table]![(value ^ mine) * words + w]!;
          count += countBits(both);
        }
        if (count < support) support = count;
      }
      all.push({ place, value, support: Math.min(support, values.length) });
    }
    work.left -= values.length * ties[place]!.length * words;
  }
  return all.sort((a, b) => a.support - b.support || a.place - b.place || a.value - b.value);
};
