import { uniformFrom } from "../algebra/seeded-random.ts";
import { type Board, tieWorst, type Values } from "./board.ts";
import type { Attempt, Demand } from "./fewest-exceptions.ts";
import { domainsAt, limitAt } from "./limit.ts";
import { narrow, type Work } from "./narrow.ts";
import { emptyMatching } from "./one-leaf-each.ts";
import { partOfBoard, partOfPlan } from "./part-of-board.ts";
import { shave } from "./shave.ts";
import { swapUnder } from "./swap-search.ts";
import { searchTree } from "./tree-search.ts";

/**
 * Places to be filled so that no weighted difference passes the limit, as a demand on the places: one that is left out stays empty.
 * `plan` is any valid plan of all places, from which exchanges start. `fast`: the places that may not stay empty.
 */
export const fillUnder = (board: Board, limitDE: number, plan: Values, fast: ReadonlySet<number>): Demand<Values> => {
  const limit = limitAt(board, limitDE);
  const failures = new Float64Array(board.places.length);
  const clashes = (asked: readonly number[], work: Work): boolean => {
    const part = partOfBoard(board, asked);
    const sets = domainsAt(part, limitDE);
    return (
      !narrow(part, limit, sets, emptyMatching(asked.length, board.leaves.length, board.words), work) ||
      !shave(part, limit, sets, work)
    );
  };
  const attempt = (asked: readonly number[], work: Work): Attempt<Values> => {
    const part = partOfBoard(board, asked);
    const sets = domainsAt(part, limitDE);
    const half: Work = { left: work.left / 2 };
    if (!shave(part, limit, sets, half)) return { kind: "none" };
    const failed = Float64Array.from(asked, (place) => failures[place]!);
    const outcome = searchTree(part, limit, sets, failed, half);
    for (const [at, place] of asked.entries()) failures[place] = failed[at]!;
    work.left -= work.left / 2 - half.left;
    if (outcome.kind === "none") return outcome;
    if (outcome.kind === "found") return { kind: "found", way: outcome.plan };
    const way = swapUnder(part, partOfPlan(plan, asked), limitDE, uniformFrom(1), work);
    return way ? { kind: "found", way } : { kind: "undecided" };
  };
  return { members: board.places.length, fast, lots: lotsOf(board), clashes, attempt };
};

/** The places that look into one space, space by space, and each place with all that are seen with it. */
const lotsOf = ({ places, ties }: Board): number[][] => {
  const spaces = [...new Set(places.flatMap(({ spaces }) => spaces))].filter((space) => space !== null);
  const all = [...places.keys()];
  return [
    ...spaces.map((space) => all.filter((place) => places[place]!.spaces.includes(space))),
    ...all.map((place) => [place, ...ties[place]!.map(({ other }) => other)].toSorted((a, b) => a - b)),
  ].filter((lot) => lot.length > 1);
};

/**
 * Places that, left empty, leave nothing over the limit in the plan: those in most of the broken ties, one after the other.
 * Null when places that may not stay empty pass it among themselves.
 */
export const emptyUnder = (board: Board, limitDE: number, plan: Values, fast: ReadonlySet<number>): number[] | null => {
  const empty = new Set<number>();
  for (;;) {
    const over = new Map<number, number>();
    for (const [place, value] of plan.entries()) {
      if (empty.has(place)) continue;
      let broken = board.aloneWorst[place * board.values + value]! > limitDE ? board.places.length : 0;
      for (const tie of board.ties[place]!)
        if (!empty.has(tie.other) && tieWorst(board, tie, value, plan[tie.other]!) > limitDE) broken++;
      if (broken > 0) over.set(place, broken);
    }
    if (over.size === 0) return [...empty].toSorted((a, b) => a - b);
    const open = [...over].filter(([place]) => !fast.has(place));
    if (open.length === 0) return null;
    empty.add(open.reduce((most, one) => (one[1] > most[1] ? one : most))[0]);
  }
};
