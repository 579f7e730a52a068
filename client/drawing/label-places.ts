import type { Pattern } from "../../server/contract/leaf.ts";
import type { Box } from "./leaf-diagram.ts";

interface Place {
  readonly x: number;
  readonly y: number;
}

/** Radius of the round label of a mark, mm on the drawn leaf. */
export const labelRadius = 54;

const apart = 2 * labelRadius + 8;
const rings = [70, 190, 310] as const;
const directions = [0, 180, -90, 90, -45, 45, -135, 135].map((degrees) => (degrees * Math.PI) / 180);

const between = (value: number, least: number, most: number) => Math.max(least, Math.min(most, value));

const distance = (one: Place, other: Place) => Math.hypot(one.x - other.x, one.y - other.y);

/** Places round a box, the nearest first, right and left before above and below, all moved so far that a label lies on the face. */
const around = (middle: Place, box: Box, face: Pick<Pattern, "widthMm" | "heightMm">): readonly Place[] =>
  rings.flatMap((ring) =>
    directions.map((angle) => ({
      x: between(middle.x + Math.cos(angle) * (box.w / 2 + ring), labelRadius, face.widthMm - labelRadius),
      y: between(middle.y + Math.sin(angle) * (box.h / 2 + ring), labelRadius, face.heightMm - labelRadius),
    })),
  );

/** The middle of each mark's label, mm: beside its box, on the face, and clear of the labels before it where there is room. */
export const labelPlaces = (boxes: readonly Box[], face: Pick<Pattern, "widthMm" | "heightMm">): readonly Place[] => {
  const places: Place[] = [];
  for (const box of boxes) {
    const middle = { x: box.x + box.w / 2, y: box.y + box.h / 2 };
    const beside = around(middle, box, face).filter((place) => distance(place, middle) > labelRadius);
    const free = beside.find((place) => places.every((other) => distance(place, other) >= apart));
    places.push(free ?? beside[0] ?? middle);
  }
  return places;
};
