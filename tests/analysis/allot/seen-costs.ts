import type { AllotmentProblem, FaceName } from "../../../analysis/allot/allotment.ts";
import { suits } from "../../../analysis/allot/check-problem.ts";
import { countedDifferences } from "../../../analysis/allot/counted-difference.ts";
import { type Place, pairsSeen, placesOf, type SeenPair, type Sight } from "../../../analysis/allot/seen-together.ts";

/** A leaf at a place, one way round. */
export interface Choice {
  readonly place: number;
  readonly leaf: string;
  readonly turned: boolean;
}

/** What a choice counts for with each choice at another place it sees, ΔE00 after weighting. */
export interface Beside {
  readonly choice: Choice;
  readonly other: number;
  readonly costs: readonly { readonly choice: Choice; readonly worst: number }[];
}

/** An allotment as bare numbers, for another engine: `alone` is what a choice counts for whatever hangs elsewhere. */
export interface SeenCosts {
  readonly choices: readonly (readonly Choice[])[];
  readonly alone: ReadonlyMap<Choice, number>;
  readonly beside: readonly Beside[];
}

/**
 * The costs of a job without locks in which no opening stays empty, taken from what is seen together and what it counts for, and from
 * none of the tables the engine searches in.
 */
export const seenCosts = (problem: AllotmentProblem): SeenCosts => {
  if (problem.locks.length > 0 || problem.mayStayEmpty.length > 0)
    throw new Error("a job without locks, all to be hung");
  const places = placesOf(problem);
  const pairs = pairsSeen(problem, places);
  const choices = places.map((place, at) => choicesAt(problem, place, at));
  const costOf = costsIn(problem);
  const alone = new Map(choices.flat().map((choice) => [choice, markOn(problem, places, choice)]));
  const tied = new Map<string, SeenPair[]>();
  for (const pair of pairs) {
    const { one, other } = pair;
    if ("existing" in other || other.place === one.place)
      for (const choice of choices[one.place]!)
        alone.set(choice, Math.max(alone.get(choice)!, costOf(pair, choice, choice)));
    else {
      const key = `${one.place} ${other.place}`;
      tied.set(key, [...(tied.get(key) ?? []), pair]);
    }
  }
  const beside = [...tied.values()].flatMap((seen) => {
    const [{ one, other }] = seen as [SeenPair, ...SeenPair[]];
    if ("existing" in other) return [];
    return choices[one.place]!.map(
      (mine): Beside => ({
        choice: mine,
        other: other.place,
        costs: choices[other.place]!.filter(({ leaf }) => leaf !== mine.leaf).map((theirs) => ({
          choice: theirs,
          worst: Math.max(...seen.map((pair) => costOf(pair, mine, theirs))),
        })),
      }),
    );
  });
  return { choices, alone, beside };
};

const choicesAt = ({ leaves, openings, bans }: AllotmentProblem, place: Place, at: number): Choice[] => {
  const opening = openings.find(({ id }) => id === place.opening)!;
  return leaves
    .filter((leaf) => leaf.state === "free" && suits(leaf, opening))
    .flatMap(({ id, mayTurn }) =>
      (mayTurn ? [false, true] : [false]).map((turned) => ({ place: at, leaf: id, turned })),
    )
    .filter(
      ({ leaf, turned }) =>
        !bans.some(
          (ban) =>
            ban.leaf === leaf &&
            ("opening" in ban
              ? ban.opening === place.opening
              : place.spaces.some(
                  (space, side) => space === ban.space && (ban.face ?? shown(turned, side)) === shown(turned, side),
                )),
        ),
    );
};

const shown = (turned: boolean, side: number): FaceName => ((side === 0) === turned ? "B" : "A");

const costsIn = (problem: AllotmentProblem) => {
  const counted = countedDifferences(problem);
  const faces = new Map(problem.leaves.map((leaf) => [leaf.id, leaf.faces]));
  const faceOf = ({ leaf, turned }: Choice, side: number): string => faces.get(leaf)![shown(turned, side)].id;
  const beside = (other: Sight | { readonly existing: string }, choice: Choice): string =>
    "existing" in other ? other.existing : faceOf(choice, other.side);
  return ({ manner, one, other }: SeenPair, mine: Choice, theirs: Choice): number =>
    counted(manner, faceOf(mine, one.side), beside(other, theirs)).weighted;
};

const markOn = ({ leaves, spaces }: AllotmentProblem, places: readonly Place[], choice: Choice): number => {
  const { faces } = leaves.find(({ id }) => id === choice.leaf)!;
  const counts = places[choice.place]!.spaces.map((space, side) => {
    const looked = spaces.find(({ id }) => id === space);
    return looked ? (faces[shown(choice.turned, side)].mark ?? 0) * (looked.marksCount ?? 1) : 0;
  });
  return Math.max(...counts);
};
