/**
 * Sets of values as bits, one set a place, `words` 32-bit words a set. A value is a leaf and a turn: 2 * leaf + turn.
 * Turned or not, value v shows face number v ^ side to a side (0 or 1), face A of leaf n being 2n and face B 2n + 1.
 */
export type ValueSets = Int32Array;

export const wordsFor = (values: number): number => (values + 31) >>> 5;

export const has = (sets: ValueSets, from: number, value: number): boolean =>
  ((sets[from + (value >>> 5)]! >>> (value & 31)) & 1) === 1;

export const add = (sets: ValueSets, from: number, value: number): void => {
  sets[from + (value >>> 5)]! |= 1 << (value & 31);
};

export const remove = (sets: ValueSets, from: number, value: number): void => {
  sets[from + (value >>> 5)]! &= ~(1 << (value & 31));
};

/** Leaves the set with that one value. */
export const keepOnly = (sets: ValueSets, from: number, words: number, value: number): void => {
  sets.fill(0, from, from + words);
  add(sets, from, value);
};

export const countBits = (word: number): number => {
  const pairs = word - ((word >>> 1) & 0x55555555);
  const fours = (pairs & 0x33333333) + ((pairs >>> 2) & 0x33333333);
  return Math.imul((fours + (fours >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
};

/** How many leaves the set holds, whichever way round. */
export const countLeaves = (sets: ValueSets, from: number, words: number): number => {
  let count = 0;
  for (let w = from; w < from + words; w++) count += countBits((sets[w]! | (sets[w]! >>> 1)) & 0x55555555);
  return count;
};

export const countValues = (sets: ValueSets, from: number, words: number): number => {
  let count = 0;
  for (let w = from; w < from + words; w++) count += countBits(sets[w]!);
  return count;
};

/** The smallest value of the set, -1 when it is empty. */
export const firstValue = (sets: ValueSets, from: number, words: number): number => {
  for (let w = 0; w < words; w++) {
    const word = sets[from + w]!;
    if (word !== 0) return w * 32 + 31 - Math.clz32(word & -word);
  }
  return -1;
};

/** The values of the set, smallest first. */
export const valuesOf = (sets: ValueSets, from: number, words: number): number[] => {
  const values: number[] = [];
  for (let w = 0; w < words; w++)
    for (let rest = sets[from + w]!; rest !== 0; rest &= rest - 1) values.push(w * 32 + 31 - Math.clz32(rest & -rest));
  return values;
};

/** Faces to values, or values to faces, as seen from side 1: neighbours change places. */
export const swapNeighbours = (word: number): number => ((word & 0x55555555) << 1) | ((word >>> 1) & 0x55555555);
