import type { MatchView, SpaceStrip } from "../../server/contract/views.ts";

/** What people hold fast and keep out; the plan works round it. */
export type Wishes = Pick<MatchView, "locks" | "bans">;
/** Which leaf stands in which place of which opening. */
type Place = Pick<SpaceStrip["places"][number], "leaf" | "opening" | "place">;

const elsewhere = (place: Place) => (lock: Wishes["locks"][number]) =>
  lock.leaf !== place.leaf && !(lock.opening === place.opening && lock.place === place.place);

/** The leaf of a place held there, with the given turn. Any other hold on that leaf or that place ends. */
export const hold = (wishes: Wishes, place: Place, turned: boolean): Wishes =>
  place.leaf === null
    ? wishes
    : {
        ...wishes,
        locks: [
          ...wishes.locks.filter(elsewhere(place)),
          { opening: place.opening, place: place.place, leaf: place.leaf, turned },
        ],
      };

export const release = (wishes: Wishes, place: Place): Wishes => ({
  ...wishes,
  locks: wishes.locks.filter(elsewhere(place)),
});

/** The leaf of a place kept out of that opening, or of the whole space; a hold on it ends. */
export const keepOut = (
  wishes: Wishes,
  place: Place,
  from: "opening" | "space",
  space: string,
  why: string,
): Wishes => {
  const { leaf } = place;
  if (leaf === null) return wishes;
  const ban = {
    leaf,
    opening: from === "opening" ? place.opening : null,
    space: from === "space" ? space : null,
    why,
  };
  return { locks: release(wishes, place).locks, bans: [...wishes.bans, ban] };
};

/** The ban at this index is lifted. */
export const letIn = (wishes: Wishes, index: number): Wishes => ({
  ...wishes,
  bans: wishes.bans.filter((_, at) => at !== index),
});
