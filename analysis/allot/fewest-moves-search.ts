import { uniformFrom } from "../algebra/seeded-random.ts";
import { type Board, sumOf, type Values } from "./board.ts";
import { type Attempt, type Demand, type Exceptions, fewestExceptions } from "./fewest-exceptions.ts";
import { domainsAt, limitAt } from "./limit.ts";
import { narrow, type Work } from "./narrow.ts";
import { emptyMatching } from "./one-leaf-each.ts";
import { settle } from "./settle.ts";
import { shave } from "./shave.ts";
import { searchTree } from "./tree-search.ts";
import { has, keepOnly, type ValueSets } from "./value-sets.ts";

/** A plan under the limit, how many of the places that could stay as they were do not, and how few that must be at least. */
export interface LeastMoved {
  readonly plan: Values;
  readonly moved: number;
  readonly bound: number;
}

/**
 * The plan under the limit that leaves as many places as it can as they were, then with a small sum. `before` is the value of each place,
 * -1 where none was or it cannot stay; `plan` is any plan under the limit. `looks`: work for the proof.
 */
export const leastMoved = (board: Board, limitDE: number, before: Values, plan: Values, looks: number): LeastMoved => {
  const stayed = [...board.places.keys()].filter((place) => before[place]! >= 0);
  const start = nearTo(board, limitDE, before, plan);
  const demand = keepUnder(board, limitDE, before, stayed);
  const excepted = [...stayed.keys()].filter((member) => start[stayed[member]!] !== before[stayed[member]!]);
  const steps = fewestExceptions(demand, { excepted, way: start } satisfies Omit<Exceptions<Values>, "bound">, {
    left: looks,
  });
  let last = steps.next();
  while (!last.done) last = steps.next();
  const free = new Set(last.value.excepted);
  const kept = stayed.filter((_, member) => !free.has(member));
  const held = { ...board, domains: heldAt(board, board.domains, before, kept) };
  const settled = settle(held, last.value.way, limitDE, uniformFrom(1), 200);
  return {
    plan: settled,
    moved: stayed.filter((place) => settled[place] !== before[place]).length,
    bound: last.value.bound,
  };
};

/** The sets with one value left at each place that is kept as it was. */
const heldAt = ({ words }: Board, sets: ValueSets, before: Values, kept: readonly number[]): ValueSets => {
  const held = sets.slice();
  for (const place of kept) {
    const stays = has(held, place * words, before[place]!);
    keepOnly(held, place * words, words, before[place]!);
    if (!stays) held.fill(0, place * words, (place + 1) * words);
  }
  return held;
};

/** Keeping places as they were while no weighted difference passes the limit, as a demand on them; the others may change. */
const keepUnder = (board: Board, limitDE: number, before: Values, stayed: readonly number[]): Demand<Values> => {
  const limit = limitAt(board, limitDE);
  const open = domainsAt(board, limitDE);
  const held = (asked: readonly number[]): ValueSets =>
    heldAt(
      board,
      open,
      before,
      asked.map((member) => stayed[member]!),
    );
  return {
    members: stayed.length,
    fast: new Set(),
    lots: [],
    clashes: (asked, work) => {
      const matching = emptyMatching(board.places.length, board.leaves.length, board.words);
      return !narrow(board, limit, held(asked), matching, work);
    },
    attempt: (asked, work): Attempt<Values> => {
      const sets = held(asked);
      const some: Work = { left: work.left / 2 };
      if (!shave(board, limit, sets, some)) return { kind: "none" };
      work.left -= work.left / 2 - some.left;
      const outcome = searchTree(board, limit, sets, new Float64Array(board.places.length), work);
      return outcome.kind === "found" ? { kind: "found", way: outcome.plan } : outcome;
    },
  };
};

/**
 * A plan under the limit with few places changed, by exchanges at which a changed place costs as much as some eight differences:
 * enough that none is changed for its own sake, so little that two may be changed to bring back three.
 */
const nearTo = (board: Board, limitDE: number, before: Values, plan: Values): Values => {
  const pairs = Math.max(1, board.ties.reduce((count, list) => count + list.length, 0) / 2);
  const changed = Math.max(1, (8 * sumOf(board, plan)) / pairs);
  const aloneSum = board.aloneSum.map((sum, at) => {
    const was = before[Math.floor(at / board.values)]!;
    return was < 0 || was === at % board.values ? sum : sum + changed;
  });
  return settle({ ...board, aloneSum }, plan, limitDE, uniformFrom(1), 600);
};

/** The values of the places before, as far as they may still be taken: -1 elsewhere. */
export const valuesBefore = (
  board: Board,
  before: readonly {
    readonly opening: string;
    readonly place: 0 | 1;
    readonly leaf: string;
    readonly turned: boolean;
  }[],
): Values => {
  const number = new Map(board.leaves.map(({ id }, leaf) => [id, leaf]));
  return Int32Array.from(board.places, ({ opening, place }, at) => {
    const hung = before.find((one) => one.opening === opening && one.place === place);
    const leaf = hung && number.get(hung.leaf);
    if (leaf === undefined) return -1;
    const value = 2 * leaf + (hung!.turned ? 1 : 0);
    return has(board.domains, at * board.words, value) ? value : -1;
  });
};
