import { countLeaves, type ValueSets } from "./value-sets.ts";

/** Which leaf stands at each place (-1: none yet) and at which place each leaf stands, for sets of values of `words` words. */
export interface Matching {
  readonly words: number;
  readonly leafAt: Int32Array;
  readonly placeOf: Int32Array;
  /** Leaves looked at in the round of that number: scratch of the search for a chain of changes. */
  readonly seenIn: Int32Array;
  round: number;
}

export const emptyMatching = (places: number, leaves: number, words: number): Matching => ({
  words,
  leafAt: new Int32Array(places).fill(-1),
  placeOf: new Int32Array(leaves).fill(-1),
  seenIn: new Int32Array(leaves),
  round: 0,
});

const holdsLeaf = (sets: ValueSets, from: number, leaf: number): boolean =>
  ((sets[from + (leaf >>> 4)]! >>> ((leaf & 15) * 2)) & 3) !== 0;

/** Gives the place a leaf of its set, moving others along if need be; false when no chain of changes does it. */
const augment = (matching: Matching, sets: ValueSets, place: number): boolean => {
  const { words, leafAt, placeOf, seenIn, round } = matching;
  const from = place * words;
  for (let w = 0; w < words; w++) {
    let rest = (sets[from + w]! | (sets[from + w]! >>> 1)) & 0x55555555;
    for (; rest !== 0; rest &= rest - 1) {
      const leaf = (w * 32 + 31 - Math.clz32(rest & -rest)) >>> 1;
      if (seenIn[leaf] === round) continue;
      seenIn[leaf] = round;
      const holder = placeOf[leaf]!;
      if (holder >= 0 && !augment(matching, sets, holder)) continue;
      leafAt[place] = leaf;
      placeOf[leaf] = place;
      return true;
    }
  }
  return false;
};

/** Gives the place a leaf; true when it has one. Places that had one keep one. */
export const giveLeaf = (matching: Matching, sets: ValueSets, place: number): boolean => {
  matching.round++;
  return augment(matching, sets, place);
};

/** Brings a matching in line with shrunken sets: true when every place has a leaf of its own. */
export const matchAll = (matching: Matching, sets: ValueSets): boolean => {
  const { words, leafAt, placeOf } = matching;
  for (let place = 0; place < leafAt.length; place++) {
    const leaf = leafAt[place]!;
    if (leaf >= 0 && !holdsLeaf(sets, place * words, leaf)) {
      leafAt[place] = -1;
      placeOf[leaf] = -1;
    }
  }
  for (let place = 0; place < leafAt.length; place++)
    if (leafAt[place]! < 0 && !giveLeaf(matching, sets, place)) return false;
  return true;
};

/**
 * Removes from each set the leaves that no complete matching gives to that place; true when anything went.
 * Rule: an edge outside the matching survives only inside a strong component of the alternating graph, or on a chain to a leaf
 * that stays over (Régin's filter for "all different", AAAI 1994, from memory). `shrunk(place)` is told of every set that lost a leaf.
 */
export const dropHopeless = (matching: Matching, sets: ValueSets, shrunk: (place: number) => void): boolean => {
  const { words, leafAt, placeOf } = matching;
  const component = strongComponents(matching, sets);
  const canPassOn = placesThatReachASpare(matching, sets);
  let any = false;
  for (let place = 0; place < leafAt.length; place++) {
    if (countLeaves(sets, place * words, words) === 1) continue;
    let lost = false;
    for (let w = 0; w < words; w++) {
      let rest = (sets[place * words + w]! | (sets[place * words + w]! >>> 1)) & 0x55555555;
      for (; rest !== 0; rest &= rest - 1) {
        const bit = 31 - Math.clz32(rest & -rest);
        const holder = placeOf[(w * 32 + bit) >>> 1]!;
        if (holder < 0 || holder === place || component[holder] === component[place] || canPassOn[holder] === 1)
          continue;
        sets[place * words + w]! &= ~(3 << bit);
        lost = true;
      }
    }
    if (lost) {
      any = true;
      shrunk(place);
    }
  }
  return any;
};

/** The other places whose leaf this place could take. */
const rivals = ({ words, placeOf }: Matching, sets: ValueSets, place: number): number[] => {
  const list: number[] = [];
  for (let w = 0; w < words; w++)
    for (
      let rest = (sets[place * words + w]! | (sets[place * words + w]! >>> 1)) & 0x55555555;
      rest !== 0;
      rest &= rest - 1
    ) {
      const holder = placeOf[(w * 32 + 31 - Math.clz32(rest & -rest)) >>> 1]!;
      if (holder !== place) list.push(holder);
    }
  return list;
};

/** Number of the strong component of each place in the graph "could take the leaf of" (Tarjan's method). */
const strongComponents = (matching: Matching, sets: ValueSets): Int32Array => {
  const places = matching.leafAt.length;
  const component = new Int32Array(places).fill(-1);
  const order = new Int32Array(places).fill(-1);
  const lowest = new Int32Array(places);
  const stack: number[] = [];
  let next = 0;
  let components = 0;
  const visit = (place: number) => {
    order[place] = lowest[place] = next++;
    stack.push(place);
    for (const rival of rivals(matching, sets, place)) {
      if (rival < 0) continue;
      if (order[rival]! < 0) {
        visit(rival);
        lowest[place] = Math.min(lowest[place]!, lowest[rival]!);
      } else if (component[rival]! < 0) lowest[place] = Math.min(lowest[place]!, order[rival]!);
    }
    if (lowest[place] !== order[place]) return;
    let member: number;
    do {
      member = stack.pop()!;
      component[member] = components;
    } while (member !== place);
    components++;
  };
  for (let place = 0; place < places; place++) if (order[place]! < 0) visit(place);
  return component;
};

/** 1 for each place that can pass its leaf on because a chain of changes ends at a leaf that stays over. */
const placesThatReachASpare = (matching: Matching, sets: ValueSets): Uint8Array => {
  const places = matching.leafAt.length;
  const reaches = new Uint8Array(places);
  if (!matching.placeOf.includes(-1)) return reaches;
  const takers: number[][] = Array.from({ length: places }, () => []);
  const queue: number[] = [];
  for (let place = 0; place < places; place++)
    for (const rival of rivals(matching, sets, place))
      if (rival >= 0) takers[rival]!.push(place);
      else if (reaches[place] === 0) {
        reaches[place] = 1;
        queue.push(place);
      }
  for (const place of queue)
    for (const taker of takers[place]!)
      if (reaches[taker] === 0) {
        reaches[taker] = 1;
        queue.push(taker);
      }
  return reaches;
};
