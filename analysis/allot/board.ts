import type { AllotmentProblem, Leaf, Lock } from "./allotment.ts";
import { suits } from "./check-problem.ts";
import { type Place, pairsSeen, placesOf, type SeenPair } from "./seen-together.ts";
import { add, type ValueSets, wordsFor } from "./value-sets.ts";

/** One way in which two places see each other: side of the one, side of the other, and which table of weighted differences holds. */
export interface Relation {
  readonly mine: 0 | 1;
  readonly theirs: 0 | 1;
  readonly table: number;
}

/** All that ties a place to another one. */
export interface Tie {
  readonly other: number;
  readonly relations: readonly Relation[];
}

/**
 * The problem in numbers. Leaves are in the order of their ids; value 2n + t is leaf n, turned when t is 1;
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
  /** Weighted differences between faces, a table for each weight in use: `tables[k][face * values + face]`. */
  readonly tables: readonly Float64Array[];
  /** What a value costs by itself, against existing faces or its own other face: largest and sum, `[place * values + value]`. */
  readonly aloneWorst: Float64Array;
  readonly aloneSum: Float64Array;
}

/** A value for every place: the plan while it is worked on. */
export type Values = Int32Array;

/** Lays the problem out over the places given, all of them unless some stay empty. The problem must be free of faults. */
export const layOut = (problem: AllotmentProblem, places: readonly Place[] = placesOf(problem)): Board => {
  const leaves = problem.leaves.filter(({ state }) => state === "free").toSorted((a, b) => (a.id < b.id ? -1 : 1));
  const values = 2 * leaves.length;
  const words = wordsFor(values);
  const pairs = pairsSeen(problem, places);
  const weights = [...new Set(pairs.map(({ weight }) => weight))].sort((a, b) => a - b);
  const between = differences(problem);
  const faceIds = leaves.flatMap(({ faces }) => [faces.A.id, faces.B.id]);
  const tables = weights.map((weight) =>
    Float64Array.from(
      { length: values * values },
      (_, i) => weight * between(faceIds[Math.floor(i / values)]!, faceIds[i % values]!),
    ),
  );
  const aloneWorst = new Float64Array(places.length * values);
  const aloneSum = new Float64Array(places.length * values);
  const relations = new Map<string, Relation[]>();
  const relate = (place: number, other: number, relation: Relation) => {
    const key = `${place} ${other}`;
    relations.set(key, [...(relations.get(key) ?? []), relation]);
  };
  for (const { one, other, weight } of pairs) {
    const table = weights.indexOf(weight);
    if ("existing" in other || other.place === one.place)
      for (let v = 0; v < values; v++) {
        const cost =
          "existing" in other
            ? weight * between(faceIds[v ^ one.side]!, other.existing)
            : tables[table]![(v ^ one.side) * values + (v ^ other.side)]!;
        const at = one.place * values + v;
        aloneWorst[at] = Math.max(aloneWorst[at]!, cost);
        aloneSum[at]! += cost;
      }
    else {
      relate(one.place, other.place, { mine: one.side, theirs: other.side, table });
      relate(other.place, one.place, { mine: other.side, theirs: one.side, table });
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
    aloneWorst,
    aloneSum,
  };
};

const differences = ({ differences: { faces, deltaE }, notComparedAs }: AllotmentProblem) => {
  const row = new Map(faces.map((id, index) => [id, index]));
  return (one: string, other: string): number => deltaE[row.get(one)!]![row.get(other)!] ?? notComparedAs;
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
