import type { FaceLayout, Part } from "../leaf-parts.ts";

/** A part needs more than the 10 mm left out on either side of it where its colour is measured. */
const leastPartMm = 20;

/** Parts may pass each other or the edge of the leaf by less than this, mm: what rounding may do. */
const roundingMm = 0.5;

const words = ({ name }: Part): string => name.replaceAll("-", " ");

const tenths = (length: number): number => Math.round(length * 10) / 10;

const tooNarrow = (part: Part): string | null => {
  const [width, height] = [tenths(part.rectMm[2]), tenths(part.rectMm[3])];
  if (width >= leastPartMm && height >= leastPartMm) return null;
  if (width <= 0 || height <= 0)
    return `Two lines of the ${words(part)} cross: move one back past the other, so that at least ${leastPartMm} mm lie between them.`;
  const [length, what] = width < height ? [width, "wide"] : [height, "high"];
  return `The ${words(part)} would be ${length} mm ${what}: move one of its lines, so that at least ${leastPartMm} mm lie between them.`;
};

const outside = (part: Part, { widthMm, heightMm }: FaceLayout): string | null => {
  const [x, y, width, height] = part.rectMm;
  const within = (at: number, most: number): boolean => at >= -roundingMm && at <= most + roundingMm;
  const inside =
    within(x, widthMm) && within(x + width, widthMm) && within(y, heightMm) && within(y + height, heightMm);
  return inside
    ? null
    : `The ${words(part)} would lie outside the leaf, which is ${widthMm} x ${heightMm} mm: move its line back onto the leaf.`;
};

const overlapping = (one: Part, other: Part): string | null => {
  const [x, y, width, height] = one.rectMm;
  const [x2, y2, width2, height2] = other.rectMm;
  const across = Math.min(x + width, x2 + width2) - Math.max(x, x2);
  const down = Math.min(y + height, y2 + height2) - Math.max(y, y2);
  return across <= roundingMm || down <= roundingMm
    ? null
    : `The ${words(one)} and the ${words(other)} would overlap by ${tenths(Math.min(across, down))} mm: move the line between them.`;
};

/** Why parts cannot lie like this on a face, one sentence that says what to move; null when they can. */
export const layoutFault = (layout: FaceLayout): string | null => {
  const { parts } = layout;
  const faults = [
    ...parts.map((part) => outside(part, layout)),
    ...parts.map(tooNarrow),
    ...parts.flatMap((one, index) => parts.slice(index + 1).map((other) => overlapping(one, other))),
  ];
  return faults.find((fault) => fault !== null) ?? null;
};
