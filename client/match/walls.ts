import type { SpaceStrip } from "../../server/contract/views.ts";

type Places = SpaceStrip["places"];

/** The faces of a space a row a wall, in the order one walks past them; those of no wall are the last row. One row when none is told. */
export const wallRows = ({ space, places }: Pick<SpaceStrip, "space" | "places">): readonly Places[] => {
  const walls = space.look?.walls ?? [];
  const onWalls = new Set(walls.flat());
  const rows = walls.map((wall) => wall.flatMap((opening) => places.filter((place) => place.opening === opening)));
  return [...rows, places.filter(({ opening }) => !onWalls.has(opening))].filter((row) => row.length > 0);
};

/** The wall on which each opening stands, null for none; told by its index. */
export const wallOf = (walls: readonly (readonly string[])[], opening: string): number | null => {
  const at = walls.findIndex((wall) => wall.includes(opening));
  return at < 0 ? null : at;
};

/** An opening one step towards the start (-1) or the end (1) of its wall; unchanged at the end of the wall. */
export const stepped = (walls: readonly (readonly string[])[], opening: string, step: -1 | 1): string[][] =>
  walls.map((wall) => {
    const from = wall.indexOf(opening);
    const swapped = wall[from + step];
    if (from < 0 || swapped === undefined) return [...wall];
    return wall.map((one, at) => (at === from ? swapped : at === from + step ? opening : one));
  });

/** An opening put at the end of a wall, of a new one when the index is beyond the last, or on none (null). Walls left empty go. */
export const putOnWall = (walls: readonly (readonly string[])[], opening: string, wall: number | null): string[][] => {
  const without = walls.map((one) => one.filter((other) => other !== opening));
  const put =
    wall === null
      ? without
      : Array.from({ length: Math.max(without.length, wall + 1) }, (_, at) => [
          ...(without[at] ?? []),
          ...(at === wall ? [opening] : []),
        ]);
  return put.filter((one) => one.length > 0);
};
