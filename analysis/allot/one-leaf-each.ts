import type { ValueSets } from "./value-sets.ts";

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
  const { words, leafAt } = matching;
  const { component, components } = strongComponents(matching, sets);
  const kept = new Int32Array(components * words);
  for (let place = 0; place < leafAt.length; place++) addLeaf(kept, component[place]! * words, leafAt[place]!);
  const passedOn = leavesPassedOn(matching, sets);
  let any = false;
  for (let place = 0; place < leafAt.length; place++) {
    let lost = false;
    for (let w = 0; w < words; w++) {
      const hopeless = leafBits(sets[place * words + w]!) & ~(kept[component[place]! * words + w]! | passedOn[w]!);
      if (hopeless === 0) continue;
      sets[place * words + w]! &= ~(hopeless | (hopeless << 1));
      lost = true;
    }
    if (lost) {
      any = true;
      shrunk(place);
    }
  }
  return any;
};

/** A bit for each leaf that is in the word, whichever way round: the bit of its first value. */
const leafBits = (word: number): number => (word | (word >>> 1)) & 0x55555555;

const addLeaf = (bits: Int32Array, from: number, leaf: number): void => {
  bits[from + (leaf >>> 4)]! |= 1 << ((leaf & 15) * 2);
};

/** Number of the strong component of each place in the graph "could take the leaf of" (Tarjan's method). */
const strongComponents = ({ words, leafAt, placeOf }: Matching, sets: ValueSets) => {
  const places = leafAt.length;
  const component = new Int32Array(places).fill(-1);
  const order = new Int32Array(places).fill(-1);
  const lowest = new Int32Array(places);
  const stack = new Int32Array(places);
  /** Leaves that hang in no place, or in one whose component is known: nothing to learn from them. */
  const passed = new Int32Array(words);
  let [height, next, components] = [0, 0, 0];
  for (let leaf = 0; leaf < placeOf.length; leaf++) if (placeOf[leaf]! < 0) addLeaf(passed, 0, leaf);
  const visit = (place: number) => {
    order[place] = lowest[place] = next++;
    stack[height++] = place;
    for (let w = 0; w < words; w++)
      for (let rest = leafBits(sets[place * words + w]!) & ~passed[w]!; rest !== 0; rest &= rest - 1) {
        const rival = placeOf[(w * 32 + 31 - Math.clz32(rest & -rest)) >>> 1]!;
        if (component[rival]! >= 0) continue;
        if (order[rival]! < 0) {
          visit(rival);
          if (lowest[rival]! < lowest[place]!) lowest[place] = lowest[rival]!;
        } else if (order[rival]! < lowest[place]!) lowest[place] = order[rival]!;
      }
    if (lowest[place] !== order[place]) return;
    let member: number;
    do {
      member = stack[--height]!;
      component[member] = components;
      addLeaf(passed, 0, leafAt[member]!);
    } while (member !== place);
    components++;
  };
  for (let place = 0; place < places; place++) if (order[place]! < 0) visit(place);
  return { component, components };
};

/** Leaves that stay over, and those whose place can pass them on because a chain of changes ends at one that stays over. */
export const leavesPassedOn = ({ words, leafAt, placeOf }: Matching, sets: ValueSets): Int32Array => {
  const passedOn = new Int32Array(words);
  if (!placeOf.includes(-1)) return passedOn;
  for (let leaf = 0; leaf < placeOf.length; leaf++) if (placeOf[leaf]! < 0) addLeaf(passedOn, 0, leaf);
  const left = new Set(leafAt.keys());
  for (let before = -1; before !== left.size; ) {
    before = left.size;
    for (const place of left)
      for (let w = 0; w < words; w++) {
        if ((leafBits(sets[place * words + w]!) & passedOn[w]!) === 0) continue;
        addLeaf(passedOn, 0, leafAt[place]!);
        left.delete(place);
        break;
      }
  }
  return passedOn;
};
