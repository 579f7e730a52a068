import type { Component } from "./connections.ts";

/**
 * A photo that would tie groups together: `faces` ("leaf/face") side by side; or one face beside a reference, where `with` says
 * which: a chart or grey card ("known"), a printed card by its id, or a printed card that stands in another such photo too ("one-card").
 */
export interface TyingPhoto {
  readonly faces: readonly string[];
  readonly with: "known" | "one-card" | { readonly card: string } | null;
}

/** More leaves side by side are too small in the picture to be measured. Common practice, no source. */
const mostInRow = 4;

const leafOf = (face: string): string => face.slice(0, face.lastIndexOf("/"));

/** Groups whose colours do not compare with each other, the one with most faces first: all that is known is one of them. */
export const untiedGroups = (components: readonly Component[]): Component[] => {
  const known = components.filter((one) => one.known);
  const together = known.length > 0 ? [known.reduce(merge)] : [];
  return [...together, ...components.filter((one) => !one.known)].toSorted(
    (one, other) => other.faces.length - one.faces.length,
  );
};

const merge = (one: Component, other: Component): Component => ({
  photos: [...one.photos, ...other.photos],
  faces: [...one.faces, ...other.faces],
  known: one.known || other.known,
  cards: [...one.cards, ...other.cards],
});

/** One face of each group, of leaves that differ, since a leaf shows one face at a time; null where no such choice was found. */
const faceOfEach = (groups: readonly Component[], taken: readonly string[] = []): string[] | null => {
  const [first, ...others] = groups;
  if (!first) return [];
  for (const face of first.faces) {
    if (taken.includes(leafOf(face))) continue;
    const rest = faceOfEach(others, [...taken, leafOf(face)]);
    if (rest) return [face, ...rest];
  }
  return null;
};

/** The groups, beside the first, that one row of leaves ties to it, as many as stand in it. */
const rowOf = (main: Component, others: readonly Component[]) => {
  let row: { readonly groups: readonly Component[]; readonly faces: readonly string[] } = { groups: [], faces: [] };
  for (const group of others) {
    if (row.groups.length + 1 === mostInRow) break;
    const groups = [...row.groups, group];
    const faces = faceOfEach([...groups, main]);
    if (faces) row = { groups, faces };
  }
  return row;
};

/** Two groups of one and the same leaf, which cannot stand beside itself: a reference ties them. */
const byReference = (main: Component, other: Component): TyingPhoto[] => {
  const [face = ""] = other.faces;
  const [mainFace = ""] = main.faces;
  if (main.known || other.known) return [{ faces: [main.known ? face : mainFace], with: "known" }];
  const [card] = main.cards;
  if (card !== undefined) return [{ faces: [face], with: { card } }];
  const [otherCard] = other.cards;
  if (otherCard !== undefined) return [{ faces: [mainFace], with: { card: otherCard } }];
  return [mainFace, face].map((one) => ({ faces: [one], with: "one-card" as const }));
};

/**
 * The photos that join all groups to the first, as few as may be: a row of four leaves, one of each group, joins four. With g groups
 * no fewer than (g - 1) / 3 do; more are named only where groups hold faces of one leaf alone.
 */
export const leastTies = (groups: readonly Component[]): TyingPhoto[] => {
  const [first, ...others] = groups;
  if (!first) return [];
  const photos: TyingPhoto[] = [];
  let main = first;
  let rest: readonly Component[] = others;
  while (rest.length > 0) {
    const row = rowOf(main, rest);
    const joined = row.groups.length > 0 ? row.groups : rest.slice(0, 1);
    if (row.groups.length > 0) photos.push({ faces: row.faces, with: null });
    else for (const group of joined) photos.push(...byReference(main, group));
    main = joined.reduce(merge, main);
    rest = rest.filter((group) => !joined.includes(group));
  }
  return photos;
};
