import type { AllotmentProblem, SightWeights, Space } from "./allotment.ts";

/** A side of a place: where one face can be seen. `place` counts the places given, `side` is 0 or 1 of the opening. */
export interface Sight {
  readonly place: number;
  readonly side: 0 | 1;
}

/** How two faces are seen together, apart from what they look like. */
export interface Manner {
  readonly weight: number;
  /** ΔE00 that counts more for each L* the other is lighter than the one; below 0: for each L* it is darker. */
  readonly stepBack: number;
  /** What counts more when one is lighter and the other darker than `average` L*. */
  readonly lightBesideDark: { readonly average: number; readonly adds: number } | null;
}

/** Two faces seen together in a space: of two places, or of a place and an existing face. */
export interface SeenPair {
  readonly space: string;
  readonly manner: Manner;
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

type Facts = Pick<AllotmentProblem, "spaces" | "existing" | "meetingWeight" | "sight">;

const weightIn = (space: Space, one: string, other: string, factor: number): number =>
  space.pairs?.find((pair) => (pair.one === one && pair.other === other) || (pair.one === other && pair.other === one))
    ?.weight ?? space.weight * factor;

const factorOf = (steps: number | null, sight: SightWeights | undefined): number => {
  if (!sight || steps === 0) return 1;
  if (steps === null) return sight.across;
  return Math.abs(steps) === 1 ? sight.beside : sight.apart;
};

/** Where each opening and existing face stands along the walls of a space. */
const standing = ({ walls = [] }: Space) => {
  const at = new Map(walls.flatMap((ids, wall) => ids.map((id, index) => [id, { wall, index }] as const)));
  /** How many steps along the wall from one to the other; null when they are on two walls, 0 when it is not told. */
  return (one: string, other: string): number | null => {
    const [a, b] = [at.get(one), at.get(other)];
    if (!a || !b) return 0;
    return a.wall === b.wall ? b.index - a.index : null;
  };
};

const mannerFor = ({ meetingWeight, sight }: Facts, space: Space) => {
  const stepsBetween = standing(space);
  const { gentle } = space;
  const sign = gentle?.goes === "darker" ? 1 : -1;
  return (one: string, other: string, meeting: boolean): Manner => {
    const steps = meeting ? 0 : stepsBetween(one, other);
    const beside = meeting || Math.abs(steps ?? 0) === 1;
    return {
      weight: meeting ? meetingWeight : weightIn(space, one, other, factorOf(steps, sight)),
      stepBack: sign * Math.sign(steps ?? 0) * (gentle?.stepBack ?? 0) || 0,
      lightBesideDark: (beside && space.lightBesideDark) || null,
    };
  };
};

/** Which faces are seen together in which space, and how; pairs of weight 0 are left out. */
export const pairsSeen = (problem: Facts, places: readonly Place[]): SeenPair[] => {
  const pairs: SeenPair[] = [];
  for (const space of problem.spaces.toSorted((a, b) => (a.id < b.id ? -1 : 1))) {
    const mannerOf = mannerFor(problem, space);
    const sights = places.flatMap((place, index) =>
      ([0, 1] as const)
        .filter((side) => place.spaces[side] === space.id)
        .map((side) => ({ place: index, side, opening: place.opening })),
    );
    for (const [i, { opening, ...one }] of sights.entries()) {
      for (const { opening: otherOpening, ...other } of sights.slice(i + 1)) {
        const meeting = opening === otherOpening && one.place !== other.place && one.side === other.side;
        pairs.push({ space: space.id, manner: mannerOf(opening, otherOpening, meeting), one, other });
      }
      for (const { id, space: seenIn } of problem.existing)
        if (seenIn === space.id)
          pairs.push({ space: space.id, manner: mannerOf(opening, id, false), one, other: { existing: id } });
    }
  }
  return pairs.filter(({ manner }) => manner.weight > 0);
};
