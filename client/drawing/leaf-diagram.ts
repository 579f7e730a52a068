import type { Mark, Pattern } from "../../server/contract/leaf.ts";

/** A place on a face, mm from the top left corner as seen. */
export type Box = Mark["box"];
type Part = Pattern["parts"][number];

const clamp = (value: number, least: number, most: number) => Math.max(least, Math.min(most, value));

/** A box of the given size centred on a tapped point, moved so that it stays on the face. */
export const boxAround = (
  point: { readonly x: number; readonly y: number },
  size: { readonly w: number; readonly h: number },
  face: Pick<Pattern, "widthMm" | "heightMm">,
): Box => {
  const w = Math.min(size.w, face.widthMm);
  const h = Math.min(size.h, face.heightMm);
  return {
    x: clamp(point.x - w / 2, 0, face.widthMm - w),
    y: clamp(point.y - h / 2, 0, face.heightMm - h),
    w,
    h,
  };
};

/** The box as drawn: never smaller than `leastMm`, so that a hair scratch can be seen and tapped; its centre is kept. */
export const drawnBox = (box: Box, leastMm: number): Box => {
  const w = Math.max(box.w, leastMm);
  const h = Math.max(box.h, leastMm);
  return { x: box.x + (box.w - w) / 2, y: box.y + (box.h - h) / 2, w, h };
};

/** True where two boxes share a place. */
export const overlap = (one: Box, other: Box): boolean =>
  one.x < other.x + other.w && other.x < one.x + one.w && one.y < other.y + other.h && other.y < one.y + one.h;

const holds = ({ rectMm: [x, y, w, h] }: Part, at: { x: number; y: number }) =>
  at.x >= x && at.x <= x + w && at.y >= y && at.y <= y + h;

const third = (share: number, words: readonly [string, string, string]) =>
  words[clamp(Math.floor(share * 3), 0, 2) as 0 | 1 | 2];

/** Where a box lies, in words as seen from that face: "top rail, left" or, on a flush leaf, "upper left". */
export const placeInWords = (pattern: Pattern, box: Box): string => {
  const centre = { x: box.x + box.w / 2, y: box.y + box.h / 2 };
  const across = third(centre.x / pattern.widthMm, ["left", "centre", "right"]);
  const up = third(centre.y / pattern.heightMm, ["upper", "middle", "lower"]);
  const part = pattern.parts.find((one) => holds(one, centre));
  if (!part || part.kind === "face") return `${up} ${across}`;
  const name = part.name.replaceAll("-", " ");
  return part.kind === "rail" ? `${name}, ${across}` : `${name}, ${up} third`;
};

/** A few lines along the grain of a part, as [x1, y1, x2, y2] in mm: enough to see which way it runs. */
export const grainLines = ({
  rectMm: [x, y, w, h],
  grain,
}: Part): readonly (readonly [number, number, number, number])[] => {
  const across = grain === "v" ? w : h;
  const count = Math.max(1, Math.round(across / 55));
  return Array.from({ length: count }, (_, i) => {
    const at = ((i + 0.5) / count) * across;
    return grain === "v" ? [x + at, y + 8, x + at, y + h - 8] : [x + 8, y + at, x + w - 8, y + at];
  });
};
