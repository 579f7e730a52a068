import type { Board, Relation } from "./board.ts";
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
  const filled: number[] = [];
  for (let w = 0; w < words; w++) if (sets[here + w] !== 0) filled.push(w);
  for (const { other, relations } of ties[place]!) {
    const there = other * words;
    const [{ mine, theirs, back }] = relations as readonly [Relation, ...Relation[]];
    const allowed = (mine === 0 ? rows : turned)[back]!;
    const alone = relations.length === 1;
    let any = 0;
    let shrunk = false;
    for (let w = 0; w < words; w++) {
      const before = sets[there + w]!;
      if (before === 0) continue;
      let kept = before;
      for (let rest = before; rest !== 0; rest &= rest - 1) {
        const bit = 31 - Math.clz32(rest & -rest);
        const value = w * 32 + bit;
        let partner = 0;
        if (alone) {
          const row = (value ^ theirs) * words;
          for (let k = 0; partner === 0 && k < filled.length; k++)
            partner = sets[here + filled[k]!]! & allowed[row + filled[k]!]!;
        } else partner = partners(rows, turned, relations, sets, here, words, value);
        if (partner === 0) kept &= ~(1 << bit);
      }
      if (kept !== before) {
        sets[there + w] = kept;
        shrunk = true;
      }
      any |= kept;
    }
    work.left -= words * 8;
    if (any === 0) return false;
    if (shrunk) mark(pending, other);
  }
  return true;
};

/** Some of the values of the set at `here` that may stand with this value at the other place, as bits of one word; 0 when none may. */
const partners = (
  rows: readonly ValueSets[],
  turned: readonly ValueSets[],
  relations: readonly Relation[],
  sets: ValueSets,
  here: number,
  words: number,
  value: number,
): number => {
  for (let w = 0; w < words; w++) {
    let both = sets[here + w]!;
    for (const { mine, theirs, back } of relations)
      both &= (mine === 0 ? rows : turned)[back]![(value ^ theirs) * words + w]!;
    if (both !== 0) return both;
  }
  return 0;
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
