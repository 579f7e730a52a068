import type { MatchView, SpaceStrip } from "../../server/contract/views.ts";

type Place = SpaceStrip["places"][number];

/** Where a leaf stood before and stands now; null for nowhere. */
export interface Move {
  readonly leaf: string;
  readonly from: string | null;
  readonly to: string | null;
  readonly turned: boolean;
}

type Stand = NonNullable<MatchView["before"]>["places"][number];

/** Where leaves stand in a plan, by leaf code; those that hang already are left out. */
const standing = (view: MatchView): ReadonlyMap<string, Place> =>
  new Map(
    view.spaces
      .flatMap(({ places }) => places)
      .filter(({ existing }) => !existing)
      .flatMap((place) => (place.leaf === null ? [] : [[place.leaf, place] as const])),
  );

/** What the plan shown moved or turned against the one before it, by leaf code; openings that no space sees are left out. */
export const planChanges = (before: readonly Stand[], after: MatchView): readonly Move[] => {
  const seen = new Set(
    after.spaces.flatMap(({ places }) => places.flatMap(({ opening, existing }) => (existing ? [] : [opening]))),
  );
  const was = new Map(before.flatMap((place) => (seen.has(place.opening) ? [[place.leaf, place] as const] : [])));
  const is = standing(after);
  return [...new Set([...was.keys(), ...is.keys()])].sort().flatMap((leaf) => {
    const old = was.get(leaf);
    const now = is.get(leaf);
    const turned = old !== undefined && now !== undefined && old.turned !== now.turned;
    const moved = old?.opening !== now?.opening || old?.place !== now?.place;
    return moved || turned ? [{ leaf, from: old?.opening ?? null, to: now?.opening ?? null, turned }] : [];
  });
};

/** The two places of a strip whose faces are the given pair, left one first; null when one is not in the strip. */
export const pairInStrip = (
  places: readonly Place[],
  pair: { readonly a: { leaf: string; face: string }; readonly b: { leaf: string; face: string } },
): readonly [number, number] | null => {
  const at = (one: { leaf: string; face: string }) =>
    places.findIndex(({ leaf, face }) => leaf === one.leaf && face === one.face);
  const [first = -1, second = -1] = [at(pair.a), at(pair.b)].sort((a, b) => a - b);
  return first < 0 || first === second ? null : [first, second];
};
