import { uniformFrom } from "../algebra/seeded-random.ts";
import type { Board, Values } from "./board.ts";
import { swapUnder } from "./swap-search.ts";
import { add, has, type ValueSets, wordsFor } from "./value-sets.ts";

/** Which places stay empty, and the values of the others in their order. */
interface Filled {
  readonly excepted: readonly number[];
  readonly way: Values;
}

/**
 * Fewer empty places than those given, by exchanges: as many stand-ins as places may stay empty, leaves that go with every face, are hung
 * and moved like the others until nothing passes the limit; then one less. Stops when a share of `looks` finds nothing; it may miss a way.
 * `plan` is a valid plan of all places.
 */
export const fewerEmpty = (
  board: Board,
  limitDE: number,
  plan: Values,
  empty: readonly number[],
  fast: ReadonlySet<number>,
  looks: number,
): Filled => {
  const all = [...board.places.keys()];
  let standing = withStandInsAt(board, plan, empty);
  for (let count = empty.length - 1; count >= 0; count--) {
    const start = oneLess(board, standing, count) ?? withStandInsAt(board, plan, empty.slice(0, count));
    const found = swapUnder(withStandIns(board, count, fast), start, limitDE, uniformFrom(count + 1), { left: looks });
    if (!found) break;
    standing = found;
  }
  const filled = all.filter((place) => standing[place]! < board.values);
  return {
    excepted: all.filter((place) => standing[place]! >= board.values),
    way: Int32Array.from(filled, (place) => standing[place]!),
  };
};

const withStandInsAt = ({ values }: Board, plan: Values, empty: readonly number[]): Values => {
  const standing = plan.slice();
  for (const [number, place] of empty.entries()) standing[place] = values + 2 * number;
  return standing;
};

/** The same with at most `count` stand-ins: the last of them gives way to a leaf that hangs nowhere and fits; null when none does. */
const oneLess = ({ values, words, leaves, domains }: Board, standing: Values, count: number): Values | null => {
  const next = standing.slice();
  const used = new Set([...next].map((value) => value >>> 1));
  const stands = [...next.keys()].filter((place) => next[place]! >= values);
  for (const [number, place] of stands.entries())
    if (number < count) next[place] = values + 2 * number;
    else {
      const leaf = [...leaves.keys()].find((one) => !used.has(one) && has(domains, place * words, 2 * one));
      if (leaf === undefined) return null;
      used.add(leaf);
      next[place] = 2 * leaf;
    }
  return next;
};

/** The board with so many more leaves, which may hang one way round in every place that may stay empty and differ from nothing. */
const withStandIns = (board: Board, count: number, fast: ReadonlySet<number>): Board => {
  const values = board.values + 2 * count;
  const words = wordsFor(values);
  const widened = (from: Float64Array, rows: number): Float64Array => {
    const to = new Float64Array(rows * values);
    for (let row = 0; row < rows; row++)
      to.set(from.subarray(row * board.values, (row + 1) * board.values), row * values);
    return to;
  };
  const domains: ValueSets = new Int32Array(board.places.length * words);
  for (let place = 0; place < board.places.length; place++) {
    domains.set(board.domains.subarray(place * board.words, (place + 1) * board.words), place * words);
    if (!fast.has(place))
      for (let number = 0; number < count; number++) add(domains, place * words, board.values + 2 * number);
  }
  const like = board.leaves[0]!;
  return {
    ...board,
    values,
    words,
    domains,
    leaves: [...board.leaves, ...Array.from({ length: count }, () => like)],
    tables: board.tables.map((table) => {
      const wider = new Float64Array(values * values);
      wider.set(widened(table, board.values));
      return wider;
    }),
    aloneWorst: widened(board.aloneWorst, board.places.length),
    aloneSum: widened(board.aloneSum, board.places.length),
  };
};
