import type { AllotmentProblem, Leaf, Lock } from "./allotment.ts";
import { suits } from "./check-problem.ts";
import { countedDifferences } from "./counted-difference.ts";
import { type Manner, type Place, pairsSeen, placesOf, type SeenPair } from "./seen-together.ts";
import { add, type ValueSets, wordsFor } from "./value-sets.ts";

/**
 * One way in which two places see each other: side of the one, side of the other, and which table of weighted differences holds.
 * `back` is the table seen from the other place; another one only where it matters which of the two comes first.
 */
export interface Relation {
  readonly mine: 0 | 1;
  readonly theirs: 0 | 1;
  readonly table: number;
  readonly back: number;
  readonly space: string;
}

/** What values of a place cost by themselves in a space: against an existing face, its own other face, or for a mark. */
export interface Alone {
  readonly space: string;
  readonly costs: Float64Array;
}

/** All that ties a place to another one. */
export interface Tie {
  readonly other: number;
  readonly relations: readonly Relation[];
}

/**
 * The problem in numbers. Leaves are in the order of what they fit, then of their ids; value 2n + t is leaf n, turned when t is 1;
 * face 2n is its face A, 2n + 1 its face B. `domains` holds the values each place may take.
 */
export interface Board {
  readonly leaves: readonly Leaf[];
  readonly places: readonly Place[];
  readonly pairs: readonly SeenPair[];
  readonly values: number;
  readonly words: number;
  readonly domains: ValueSets;
  readonly ties: readonly (readonly Tie[])[];
  /** Weighted differences between faces, a table for each manner of being seen together: `tables[k][face * values + other face]`. */
  readonly tables: readonly Float64Array[];
  /** What each value costs by itself in each way it does, for each place. */
  readonly alone: readonly (readonly Alone[])[];
  /** All of `alone` together: largest and sum, `[place * values + value]`. */
  readonly aloneWorst: Float64Array;
  readonly aloneSum: Float64Array;
}

/** A value for every place: the plan while it is worked on. */
export type Values = Int32Array;

/** Lays the problem out over the places given, all of them unless some stay empty. The problem must be free of faults. */
export const layOut = (problem: AllotmentProblem, places: readonly Place[] = placesOf(problem)): Board => {
  const leaves = inOrder(problem.leaves.filter(({ state }) => state === "free"));
  const values = 2 * leaves.length;
  const words = wordsFor(values);
  const pairs = pairsSeen(problem, places);
  const faceIds = leaves.flatMap(({ faces }) => [faces.A.id, faces.B.id]);
  const counted = countedDifferences(problem);
  const { tables, tableOf } = tablesFor(pairs, faceIds, counted);
  const alone: Alone[][] = places.map(() => []);
  const standAlone = (place: number, space: string, costOf: (value: number) => number) => {
    alone[place]!.push({ space, costs: Float64Array.from({ length: values }, (_, value) => costOf(value)) });
  };
  for (const [place, { spaces }] of places.entries())
    for (const [side, space] of spaces.entries()) {
      if (space === null || !leaves.some(({ faces: { A, B } }) => A.mark || B.mark)) continue;
      const counts = problem.spaces.find(({ id }) => id === space)?.marksCount ?? 1;
      standAlone(place, space, (value) => {
        const face = value ^ side;
        return counts * (leaves[face >>> 1]!.faces[(face & 1) === 0 ? "A" : "B"].mark ?? 0);
      });
    }
  const relations = new Map<string, Relation[]>();
  const relate = (place: number, other: number, relation: Relation) => {
    const key = `${place} ${other}`;
    const list = relations.get(key);
    if (list) list.push(relation);
    else relations.set(key, [relation]);
  };
  for (const { space, one, other, manner } of pairs) {
    if ("existing" in other || other.place === one.place)
      standAlone(one.place, space, (value) => {
        const beside = "existing" in other ? other.existing : faceIds[value ^ other.side]!;
        return counted(manner, faceIds[value ^ one.side]!, beside).weighted;
      });
    else {
      const [table, back] = [tableOf(manner), tableOf(turnedRound(manner))];
      relate(one.place, other.place, { mine: one.side, theirs: other.side, table, back, space });
      relate(other.place, one.place, { mine: other.side, theirs: one.side, table: back, back: table, space });
    }
  }
  const ties: Tie[][] = places.map(() => []);
  for (const [key, list] of relations) {
    const [place, other] = key.split(" ").map(Number) as [number, number];
    ties[place]!.push({ other, relations: list });
  }
  return {
    leaves,
    places,
    pairs,
    values,
    words,
    domains: domainsFor(problem, leaves, places, words),
    ties,
    tables,
    alone,
    ...aloneTogether(alone, values),
  };
};

/** The same board on which what costs exactly one of these levels costs nothing. */
export const withoutLevels = (board: Board, levels: ReadonlySet<number>): Board => {
  const free = (costs: Float64Array): Float64Array => costs.map((cost) => (levels.has(cost) ? 0 : cost));
  const alone = board.alone.map((list) => list.map(({ space, costs }) => ({ space, costs: free(costs) })));
  return { ...board, tables: board.tables.map(free), alone, ...aloneTogether(alone, board.values) };
};

const aloneTogether = (alone: Board["alone"], values: number): Pick<Board, "aloneWorst" | "aloneSum"> => {
  const aloneWorst = new Float64Array(alone.length * values);
  const aloneSum = new Float64Array(alone.length * values);
  for (const [place, list] of alone.entries())
    for (const { costs } of list)
      for (let value = 0; value < values; value++) {
        const at = place * values + value;
        aloneWorst[at] = Math.max(aloneWorst[at]!, costs[value]!);
        aloneSum[at]! += costs[value]!;
      }
  return { aloneWorst, aloneSum };
};

/** Leaves that fit the same openings stand together, so that their sets fill few words. */
const inOrder = (leaves: readonly Leaf[]): Leaf[] => {
  const fitOf = new Map(leaves.map((leaf) => [leaf, JSON.stringify(leaf.fits)]));
  return leaves.toSorted((a, b) => {
    const [one, other] = [fitOf.get(a)!, fitOf.get(b)!];
    if (one !== other) return one < other ? -1 : 1;
    return a.id < b.id ? -1 : 1;
  });
};

/** The same two faces, the other one named first. */
const turnedRound = (manner: Manner): Manner => ({ ...manner, stepBack: -manner.stepBack || 0 });

/** A table of what any two faces count for, for each manner in which places are seen together. */
const tablesFor = (
  pairs: readonly SeenPair[],
  faceIds: readonly string[],
  counted: ReturnType<typeof countedDifferences>,
) => {
  const nameOf = (manner: Manner): string => JSON.stringify([manner.weight, manner.stepBack, manner.lightBesideDark]);
  const manners = new Map(
    pairs
      .flatMap(({ manner }) => [manner, turnedRound(manner)])
      .map((manner) => [nameOf(manner), manner] as const)
      .toSorted(([, a], [, b]) => a.weight - b.weight || a.stepBack - b.stepBack),
  );
  const names = [...manners.keys()];
  const tables = [...manners.values()].map((manner) =>
    Float64Array.from(faceIds.flatMap((one) => faceIds.map((other) => counted(manner, one, other).weighted))),
  );
  return { tables, tableOf: (manner: Manner): number => names.indexOf(nameOf(manner)) };
};

const domainsFor = (
  problem: AllotmentProblem,
  leaves: readonly Leaf[],
  places: readonly Place[],
  words: number,
): ValueSets => {
  const domains = new Int32Array(places.length * words);
  const openings = new Map(problem.openings.map((opening) => [opening.id, opening]));
  const locked = lockedPlaces(problem.locks, places);
  const lockOf = new Map(problem.locks.map((lock) => [lock.leaf, lock]));
  const bansOf = new Map(leaves.map(({ id }) => [id, problem.bans.filter((ban) => ban.leaf === id)]));
  for (const [p, place] of places.entries())
    for (const [n, leaf] of leaves.entries()) {
      const lock = lockOf.get(leaf.id);
      if (locked.get(p) !== lock) continue;
      if (!suits(leaf, openings.get(place.opening)!)) continue;
      for (const turn of [0, 1] as const) {
        if (turn === 1 && !leaf.mayTurn) continue;
        if (lock?.turned !== undefined && lock.turned !== (turn === 1)) continue;
        const banned = bansOf
          .get(leaf.id)
          ?.some((ban) =>
            "opening" in ban
              ? ban.opening === place.opening
              : place.spaces.some(
                  (space, side) => space === ban.space && (!ban.face || ban.face === ((side ^ turn) === 0 ? "A" : "B")),
                ),
          );
        if (!banned) add(domains, p * words, 2 * n + turn);
      }
    }
  return domains;
};

/** The place each lock takes; a lock that names no place takes the first one free, as the two of a pair are alike. */
const lockedPlaces = (locks: readonly Lock[], places: readonly Place[]): Map<number, Lock> => {
  const taken = new Map<number, Lock>();
  const firstNamed = locks.toSorted(
    (a, b) => Number(a.place === undefined) - Number(b.place === undefined) || (a.leaf < b.leaf ? -1 : 1),
  );
  for (const lock of firstNamed) {
    const index = places.findIndex(
      ({ opening, place }, at) => opening === lock.opening && (lock.place ?? place) === place && !taken.has(at),
    );
    if (index >= 0) taken.set(index, lock);
  }
  return taken;
};

/** Largest weighted difference of a tie when its two places take these values. */
export const tieWorst = (board: Board, { relations }: Tie, mine: number, theirs: number): number => {
  let worst = 0;
  for (const relation of relations) {
    const cost = board.tables[relation.table]![(mine ^ relation.mine) * board.values + (theirs ^ relation.theirs)]!;
    if (cost > worst) worst = cost;
  }
  return worst;
};

/** Sum of the weighted differences of a tie. */
export const tieSum = (board: Board, { relations }: Tie, mine: number, theirs: number): number => {
  let sum = 0;
  for (const relation of relations)
    sum += board.tables[relation.table]![(mine ^ relation.mine) * board.values + (theirs ^ relation.theirs)]!;
  return sum;
};

/** Every single cost of a whole plan, in no order. */
export const costsOf = ({ ties, tables, alone, values }: Board, plan: Values): number[] =>
  Array.from(plan, (value, place) => [
    ...alone[place]!.map(({ costs }) => costs[value]!),
    ...ties[place]!.flatMap(({ other, relations }) =>
      other < place
        ? []
        : relations.map(
            ({ mine, theirs, table }) => tables[table]![(value ^ mine) * values + (plan[other]! ^ theirs)]!,
          ),
    ),
  ]).flat();

/** Largest weighted difference of a whole plan. */
export const worstOf = (board: Board, plan: Values): number => {
  let worst = 0;
  for (const [place, value] of plan.entries()) {
    worst = Math.max(worst, board.aloneWorst[place * board.values + value]!);
    for (const tie of board.ties[place]!)
      if (tie.other > place) worst = Math.max(worst, tieWorst(board, tie, value, plan[tie.other]!));
  }
  return worst;
};

/** Sum of the weighted differences of a whole plan. */
export const sumOf = (board: Board, plan: Values): number => {
  let sum = 0;
  for (const [place, value] of plan.entries()) {
    sum += board.aloneSum[place * board.values + value]!;
    for (const tie of board.ties[place]!) if (tie.other > place) sum += tieSum(board, tie, value, plan[tie.other]!);
  }
  return sum;
};
