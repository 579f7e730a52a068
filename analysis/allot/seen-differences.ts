import type { AllotmentProblem, FaceName, PlacedLeaf, Seat, SeenDifference } from "./allotment.ts";
import { pairsSeen, type Sight } from "./seen-together.ts";

type Arrangement = readonly Pick<PlacedLeaf, "opening" | "place" | "leaf" | "turned">[];
type Facts = Pick<
  AllotmentProblem,
  "leaves" | "openings" | "spaces" | "existing" | "differences" | "meetingWeight" | "notComparedAs"
>;

/** Every two faces seen together when the leaves hang so, planned or arranged by hand. Openings without a leaf are left out. */
export const seenDifferences = (problem: Facts, arrangement: Arrangement): SeenDifference[] => {
  const row = new Map(problem.differences.faces.map((id, index) => [id, index]));
  const leaves = new Map(problem.leaves.map((leaf) => [leaf.id, leaf]));
  const openings = new Map(problem.openings.map((opening) => [opening.id, opening]));
  const places = arrangement.map(({ opening, place }) => ({ opening, place, spaces: openings.get(opening)!.spaces }));
  const seatOf = (sight: Sight | { readonly existing: string }): Seat => {
    if ("existing" in sight) return { kind: "existing", id: sight.existing };
    const { opening, place, leaf, turned } = arrangement[sight.place]!;
    const face: FaceName = (sight.side === 1) === turned ? "A" : "B";
    return { kind: "leaf", opening, place, leaf, face };
  };
  const rowOf = (seat: Seat): number =>
    row.get(seat.kind === "existing" ? seat.id : leaves.get(seat.leaf)!.faces[seat.face].id)!;
  return pairsSeen(problem, places).map(({ space, weight, one, other }) => {
    const seats = [seatOf(one), seatOf(other)] as const;
    const deltaE = problem.differences.deltaE[rowOf(seats[0])]![rowOf(seats[1])]!;
    return {
      space,
      one: seats[0],
      other: seats[1],
      deltaE,
      weight,
      weighted: weight * (deltaE ?? problem.notComparedAs),
    };
  });
};

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
