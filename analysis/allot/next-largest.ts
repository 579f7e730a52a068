import type { Settled } from "./allotment.ts";
import { type Board, costsOf, type Values, withoutLevels } from "./board.ts";
import { closeGap, openSearch } from "./close-gap.ts";
import type { Draw } from "./move.ts";
import type { Work } from "./narrow.ts";

/** A plan whose largest differences are settled: on the board `capped`, where those before the last cost nothing, none passes `cap`. */
export interface LargestSettled {
  readonly plan: Values;
  readonly settled: readonly Settled[];
  readonly capped: Board;
  readonly cap: number;
}

/**
 * Makes the next largest difference as small as can be while the largest stays as it is, then the one after it, and so on: until one is
 * not proven, or is at most `enough`, or the work is done. What has been settled costs nothing from then on, as the pair of faces that makes it
 * may hang anywhere; a plan that would make two pairs of it is not taken, and ends the list. `first`: the largest of the plan given.
 */
export function* settleNextLargest(
  board: Board,
  start: Values,
  first: Settled,
  enough: number,
  draw: Draw,
  work: Work,
): Generator<LargestSettled, LargestSettled> {
  let plan = start;
  let capped = board;
  const settled = [first];
  const levels = new Set<number>();
  for (;;) {
    const { worst, bound } = settled.at(-1)!;
    const now = { plan, settled: settled.slice(), capped, cap: worst };
    if (bound < worst || worst <= enough || work.left <= 0 || isTwice(board, plan, worst)) return now;
    levels.add(worst);
    work.left -= board.tables.length * board.values ** 2;
    const next = withoutLevels(board, levels);
    const search = openSearch(next, plan);
    for (const _ of closeGap(search, draw, work)) yield now;
    if ([...levels].some((level) => isTwice(board, search.plan, level))) return now;
    plan = search.plan;
    capped = next;
    settled.push({ worst: search.levels[search.high]!, bound: search.levels[search.low]! });
  }
}

/** Whether the plan has this difference more than once. */
export const isTwice = (board: Board, plan: Values, level: number): boolean =>
  costsOf(board, plan).filter((cost) => cost === level).length > 1;
