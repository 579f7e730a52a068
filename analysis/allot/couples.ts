import type { Board, Tie } from "./board.ts";
import { largestPairing } from "./largest-pairing.ts";
import type { Limit } from "./limit.ts";
import type { Work } from "./narrow.ts";
import { type ValueSets, valuesOf } from "./value-sets.ts";

/** Two places of one opening, whose leaves meet. */
interface Couple {
  readonly one: number;
  readonly tie: Tie;
}

/** Couples that share leaves with one another and with no couple elsewhere. */
export type Pool = readonly Couple[];

/** The couples of a board with these sets, in pools. */
export const pooledCouples = ({ places, ties, words }: Board, sets: ValueSets): Pool[] => {
  const couples = places.flatMap(({ opening }, one): Couple[] =>
    ties[one]!.filter(({ other }) => other > one && places[other]!.opening === opening).map((tie) => ({ one, tie })),
  );
  const pools: { leaves: Int32Array; couples: Couple[] }[] = [];
  for (const couple of couples) {
    const leaves = new Int32Array(words);
    for (const place of [couple.one, couple.tie.other])
      for (let w = 0; w < words; w++) leaves[w]! |= sets[place * words + w]!;
    const touched = pools.filter((pool) => pool.leaves.some((word, w) => (word & leaves[w]!) !== 0));
    const joined = { leaves, couples: [...touched.flatMap((pool) => pool.couples), couple] };
    for (const pool of touched) for (let w = 0; w < words; w++) leaves[w]! |= pool.leaves[w]!;
    pools.splice(0, pools.length, ...pools.filter((pool) => !touched.includes(pool)), joined);
  }
  return pools.map((pool) => pool.couples);
};

/**
 * Whether as many pairs of leaves can be made at once as there are couples in the pool, each of two leaves that may meet under the
 * limit in some couple. False shows that no plan stands: what narrowing and trying see only after very many tries.
 */
export const canAllMeet = (
  { words }: Board,
  { rows, turned }: Limit,
  sets: ValueSets,
  pool: Pool,
  work: Work,
): boolean => {
  const mates = new Map<number, Set<number>>();
  const matesOf = (leaf: number): Set<number> => {
    const known = mates.get(leaf) ?? new Set<number>();
    mates.set(leaf, known);
    return known;
  };
  for (const { one, tie } of pool)
    for (const value of valuesOf(sets, one * words, words)) {
      work.left -= words * tie.relations.length;
      for (let w = 0; w < words; w++) {
        let both = sets[tie.other * words + w]!;
        for (const { mine, theirs, table } of tie.relations)
          both &= (theirs === 0 ? rows : turned)[table]![(value ^ mine) * words + w]!;
        for (let rest = both; rest !== 0; rest &= rest - 1) {
          const mate = (w * 32 + 31 - Math.clz32(rest & -rest)) >>> 1;
          matesOf(value >>> 1).add(mate);
          matesOf(mate).add(value >>> 1);
        }
      }
    }
  const members = [...mates.keys()].sort((a, b) => a - b);
  const numberOf = new Map(members.map((leaf, number) => [leaf, number]));
  work.left -= members.length ** 2;
  return (
    largestPairing(
      members.map((leaf) => [...mates.get(leaf)!].sort((a, b) => a - b).map((mate) => numberOf.get(mate)!)),
    ) >= pool.length
  );
};
