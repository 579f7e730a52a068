import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import type { Lab65 } from "../../../analysis/colour/lab.ts";
import type { RepeatReading } from "../../../analysis/repeat/repeat-readings.ts";

/** Photos of faces that were given colours: each photo shows some faces, its error is common to them, each part adds its own. */
export interface MadePhoto {
  readonly photo: string;
  readonly faces: readonly string[];
  /** A line-up without a reference hangs on nothing but itself; left out: a card is in the photo. */
  readonly lineUp?: true;
  readonly tie?: string;
  readonly camera?: string;
  /** Added to all colours in the photo, in L, a, b. */
  readonly shift?: Lab65;
}

export const makeReadings = (
  photos: readonly MadePhoto[],
  spread: { readonly photo: Lab65; readonly part: Lab65 },
  seed: number,
): RepeatReading[] => {
  const normal = normalFrom(seed);
  const colours = new Map<string, Lab65>();
  for (const face of new Set(photos.flatMap(({ faces }) => faces)))
    for (const part of ["stile-left", "stile-right", "panel"])
      colours.set(`${face} ${part}`, [60 + 3 * normal(), 9 + normal(), 24 + 2 * normal()]);
  return photos.flatMap(
    ({ photo, faces, lineUp, camera = "one", tie = lineUp ? `with ${photo}` : "known", shift = [0, 0, 0] }) => {
      const common = spread.photo.map((sd, k) => sd * normal() + shift[k]!);
      return faces.flatMap((name) =>
        ["stile-left", "stile-right", "panel"].map((part): RepeatReading => {
          const [leaf, face] = name.split("/") as [string, string];
          const [L, a, b] = colours.get(`${name} ${part}`)!.map((v, k) => v + common[k]! + spread.part[k]! * normal());
          const kind = part === "panel" ? "panel" : "stile";
          const cells = part === "panel" ? 20 : 10;
          const told = { apart: true, referenced: !lineUp, turn: 0, tie };
          return { photo, camera, leaf, face, part, kind, lab: [L!, a!, b!], cells, ...told };
        }),
      );
    },
  );
};

/** Every face by itself, so many times. */
export const singles = (faces: number, times: number): MadePhoto[] =>
  Array.from({ length: faces }, (_, f) =>
    Array.from({ length: times }, (__, t) => ({ photo: `p${f}-${t}`, faces: [`L${f}/A`] })),
  ).flat();
