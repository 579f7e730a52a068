import type { MatchView, SpaceStrip } from "../../server/contract/views.ts";

type Place = SpaceStrip["places"][number];

/** Where a leaf stood before and stands now; null for nowhere. */
export interface Move {
  readonly leaf: string;
  readonly from: string | null;
  readonly to: string | null;
  readonly turned: boolean;
}

const stands = (view: MatchView): ReadonlyMap<string, Place> =>
  new Map(
    view.spaces
      .flatMap(({ places }) => places)
      .filter(({ existing }) => !existing)
      .flatMap((place) => (place.leaf === null ? [] : [[place.leaf, place] as const])),
  );

/** What a new plan moved or turned, by leaf code. */
export const planChanges = (before: MatchView, after: MatchView): readonly Move[] => {
  const was = stands(before);
  const is = stands(after);
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
