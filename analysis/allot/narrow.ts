import type { Board } from "./board.ts";
import type { Limit } from "./limit.ts";
import { dropHopeless, type Matching, matchAll } from "./one-leaf-each.ts";
import { countLeaves, firstValue, remove, type ValueSets } from "./value-sets.ts";

/** How much work is left, in elementary looks at one word of a set; the same everywhere, where seconds are not. */
export interface Work {
  left: number;
}

/** Places whose set shrank and has not been passed on to its neighbours yet. */
interface Pending {
  readonly queue: number[];
  readonly waiting: Uint8Array;
}

const mark = ({ queue, waiting }: Pending, place: number) => {
  if (waiting[place] === 1) return;
  waiting[place] = 1;
  queue.push(place);
};

/**
 * Removes from the sets, in place, what can stand in no plan under the limit: values without a partner at a place seen with theirs,
 * leaves that another place must have. False when some place is left without a leaf, so that no plan exists.
 * `changed`: the places whose set shrank since the sets were last narrowed; all when not given.
 */
export const narrow = (
  board: Board,
  limit: Limit,
  sets: ValueSets,
  matching: Matching,
  work: Work,
  changed?: readonly number[],
): boolean => {
  const { words, places } = board;
  const pending: Pending = { queue: [], waiting: new Uint8Array(places.length) };
  for (const place of changed ?? places.keys()) mark(pending, place);
  for (;;) {
    while (pending.queue.length > 0) {
      const place = pending.queue.pop()!;
      pending.waiting[place] = 0;
      if (firstValue(sets, place * words, words) < 0) return false;
      if (!passOn(board, limit, sets, place, pending, work)) return false;
      if (!claimLeaf(board, sets, place, pending)) return false;
    }
    work.left -= places.length * words;
    if (!matchAll(matching, sets)) return false;
    work.left -= places.length * words * 8;
    if (!dropHopeless(matching, sets, (place) => mark(pending, place))) return true;
  }
};

/** Removes at every place seen with this one the values that no value here allows. */
const passOn = (
  { ties, words }: Board,
  { rows, turned }: Limit,
  sets: ValueSets,
  place: number,
  pending: Pending,
  work: Work,
): boolean => {
  const here = place * words;
  for (const { other, relations } of ties[place]!) {
    const there = other * words;
    let any = 0;
    let shrunk = false;
    for (let w = 0; w < words; w++) {
      for (let rest = sets[there + w]!; rest !== 0; rest &= rest - 1) {
        const bit = 31 - Math.clz32(rest & -rest);
        const value = w * 32 + bit;
        if (hasPartner(rows, turned, relations, sets, here, words, value)) continue;
        sets[there + w]! &= ~(1 << bit);
        shrunk = true;
      }
      any |= sets[there + w]!;
    }
    work.left -= words * 8;
    if (any === 0) return false;
    if (shrunk) mark(pending, other);
  }
  return true;
};

/** Whether some value of the set at `here` may stand with this value at the other place. */
const hasPartner = (
  rows: readonly ValueSets[],
  turned: readonly ValueSets[],
  relations: Board["ties"][number][number]["relations"],
  sets: ValueSets,
  here: number,
  words: number,
  value: number,
): boolean => {
  for (let w = 0; w < words; w++) {
    let both = sets[here + w]!;
    for (const { mine, theirs, table } of relations)
      both &= (mine === 0 ? rows : turned)[table]![(value ^ theirs) * words + w]!;
    if (both !== 0) return true;
  }
  return false;
};

/** When the place can only have one leaf, no other place can have it. */
const claimLeaf = ({ places, words }: Board, sets: ValueSets, place: number, pending: Pending): boolean => {
  if (countLeaves(sets, place * words, words) !== 1) return true;
  const leaf = firstValue(sets, place * words, words) >>> 1;
  const w = leaf >>> 4;
  const bits = 3 << ((leaf & 15) * 2);
  for (let other = 0; other < places.length; other++) {
    if (other === place || (sets[other * words + w]! & bits) === 0) continue;
    remove(sets, other * words, 2 * leaf);
    remove(sets, other * words, 2 * leaf + 1);
    if (firstValue(sets, other * words, words) < 0) return false;
    mark(pending, other);
  }
  return true;
};
