import type { AllotmentProblem, FaceName, PlacedLeaf, Seat, SeenDifference, SeenMark } from "./allotment.ts";
import { countedDifferences } from "./counted-difference.ts";
import { pairsSeen, type Sight } from "./seen-together.ts";

type Arrangement = readonly Pick<PlacedLeaf, "opening" | "place" | "leaf" | "turned">[];
type Facts = Pick<
  AllotmentProblem,
  | "leaves"
  | "openings"
  | "spaces"
  | "existing"
  | "differences"
  | "confidence"
  | "meetingWeight"
  | "sight"
  | "notComparedAs"
>;

/** Every two faces seen together when the leaves hang so, planned or arranged by hand. Openings without a leaf are left out. */
export const seenDifferences = (problem: Facts, arrangement: Arrangement): SeenDifference[] => {
  const counted = countedDifferences(problem);
  const leaves = new Map(problem.leaves.map((leaf) => [leaf.id, leaf]));
  const openings = new Map(problem.openings.map((opening) => [opening.id, opening]));
  const places = arrangement.map(({ opening, place }) => ({ opening, place, spaces: openings.get(opening)!.spaces }));
  const seatOf = (sight: Sight | { readonly existing: string }): Seat => {
    if ("existing" in sight) return { kind: "existing", id: sight.existing };
    const { opening, place, leaf, turned } = arrangement[sight.place]!;
    const face: FaceName = (sight.side === 1) === turned ? "A" : "B";
    return { kind: "leaf", opening, place, leaf, face };
  };
  const faceOf = (seat: Seat): string =>
    seat.kind === "existing" ? seat.id : leaves.get(seat.leaf)!.faces[seat.face].id;
  return pairsSeen(problem, places).map(({ space, manner, one, other }) => {
    const seats = [seatOf(one), seatOf(other)] as const;
    const { deltaE, u95, adds, weighted } = counted(manner, faceOf(seats[0]), faceOf(seats[1]));
    return {
      space,
      one: seats[0],
      other: seats[1],
      deltaE,
      ...(u95 === null ? {} : { u95 }),
      weight: manner.weight,
      ...(adds === 0 ? {} : { adds }),
      weighted,
    };
  });
};

/** Every accepted mark that is seen when the leaves hang so, the one that counts most first. */
export const seenMarks = ({ leaves, openings, spaces }: Facts, arrangement: Arrangement): SeenMark[] =>
  arrangement
    .flatMap(({ opening, leaf, turned }): SeenMark[] =>
      openings
        .find(({ id }) => id === opening)!
        .spaces.flatMap((space, side) => {
          const face: FaceName = (side === 1) === turned ? "A" : "B";
          const mark = leaves.find(({ id }) => id === leaf)!.faces[face].mark ?? 0;
          const counts = mark * (spaces.find(({ id }) => id === space)?.marksCount ?? 1);
          return space === null || counts === 0 ? [] : [{ space, opening, leaf, face, counts }];
        }),
    )
    .toSorted((a, b) => b.counts - a.counts);

/** The difference table of one space: every two faces seen together in it, the largest weighted difference first. */
export const differencesInSpace = (problem: Facts, arrangement: Arrangement, space: string): SeenDifference[] =>
  seenDifferences(problem, arrangement)
    .filter((seen) => seen.space === space)
    .toSorted((a, b) => b.weighted - a.weighted);

/** The first of the largest weighted differences; null when there is none. */
export const worstSeen = (seen: readonly SeenDifference[]): SeenDifference | null =>
  seen.reduce<SeenDifference | null>(
    (worst, one) => (worst === null || one.weighted > worst.weighted ? one : worst),
    null,
  );
