import type { AllotmentProblem, Space } from "./allotment.ts";

/** A side of a place: where one face can be seen. `place` counts the places given, `side` is 0 or 1 of the opening. */
export interface Sight {
  readonly place: number;
  readonly side: 0 | 1;
}

/** Two faces seen together in a space: of two places, or of a place and an existing face. */
export interface SeenPair {
  readonly space: string;
  readonly weight: number;
  readonly one: Sight;
  readonly other: Sight | { readonly existing: string };
}

export interface Place {
  readonly opening: string;
  readonly place: 0 | 1;
  readonly spaces: readonly [string | null, string | null];
}

/** Every place of every opening, openings in the order of their ids. */
export const placesOf = ({ openings }: Pick<AllotmentProblem, "openings">): Place[] =>
  openings
    .toSorted((a, b) => (a.id < b.id ? -1 : 1))
    .flatMap(({ id, leaves, spaces }) =>
      (leaves === 2 ? ([0, 1] as const) : ([0] as const)).map((place) => ({ opening: id, place, spaces })),
    );

const weightIn = (space: Space, one: string, other: string): number =>
  space.pairs?.find((pair) => (pair.one === one && pair.other === other) || (pair.one === other && pair.other === one))
    ?.weight ?? space.weight;

/** Which faces are seen together in which space, and with what weight; pairs of weight 0 are left out. */
export const pairsSeen = (
  { spaces, existing, meetingWeight }: Pick<AllotmentProblem, "spaces" | "existing" | "meetingWeight">,
  places: readonly Place[],
): SeenPair[] => {
  const pairs: SeenPair[] = [];
  for (const space of spaces.toSorted((a, b) => (a.id < b.id ? -1 : 1))) {
    const sights = places.flatMap((place, index) =>
      ([0, 1] as const)
        .filter((side) => place.spaces[side] === space.id)
        .map((side) => ({ place: index, side, opening: place.opening })),
    );
    for (const [i, { opening, ...one }] of sights.entries()) {
      for (const { opening: otherOpening, ...other } of sights.slice(i + 1)) {
        const meeting = opening === otherOpening && one.place !== other.place && one.side === other.side;
        pairs.push({
          space: space.id,
          weight: meeting ? meetingWeight : weightIn(space, opening, otherOpening),
          one,
          other,
        });
      }
      for (const face of existing.filter((face) => face.space === space.id))
        pairs.push({ space: space.id, weight: weightIn(space, opening, face.id), one, other: { existing: face.id } });
    }
  }
  return pairs.filter(({ weight }) => weight > 0);
};
