import { bend, type Lens, plainLens } from "../lens.ts";
import type { Pixels, Point, Quad } from "../pixels.ts";
import { crossing, lensFromEdges, straightLine } from "./lens-bow.ts";
import { sidePoints } from "./side-points.ts";

/** Thickest leaf, mm: common practice 35 to 54, no source; the usual fire door is 44. */
const thicknessMm = 54;

/** Gap, mm, within which the edge of the next leaf in a row may be taken for a leaf's own. */
const gapMm = 40;

/** Sine of how far a leaf may be turned away from the picture's plane when its thickness is looked for. */
const turned = 0.1;

/** Focal length over the longest side of the picture, as in leaf-candidates.ts: only to guess how askance a side is seen. */
const focalShare = 0.75;

/** An outline to a fraction of a px, and the least share of any side that was seen at full sharpness. */
export interface SharpOutline {
  readonly corners: Quad;
  readonly seen: number;
}

/**
 * Sharpens rough outlines (photo px, left to right) at full resolution. All their sides together tell the bow of the lens; corners are
 * where the straightened sides cross, bent back into the photo. A side that cannot be seen keeps its rough place.
 */
export const sharpenOutlines = (
  pixels: Pixels,
  rough: readonly { readonly corners: Quad; readonly pxPerMm: number }[],
  reachPx: number,
): { outlines: SharpOutline[]; lens: Lens } => {
  const sides = rough.map(({ corners, pxPerMm }, i) =>
    corners.map((from, k) => {
      const to = corners[(k + 1) % 4]!;
      const thicknessPx = thicknessMm * pxPerMm * Math.max(0, askance(pixels, from, to) + turned);
      const beside = (k === 3 && i > 0) || (k === 1 && i < rough.length - 1);
      const neighbourPx = beside ? gapMm * pxPerMm : 0;
      const { points, seen } = sidePoints(pixels, from, to, { reachPx, thicknessPx, neighbourPx });
      return { points: points.length >= 8 ? points : between(from, to), seen };
    }),
  );
  const edges = sides.flatMap((four) => four.filter(({ seen }) => seen > 0.5).map(({ points }) => points));
  const lens = lensFromEdges(edges, plainLens(pixels.width, pixels.height));
  const outlines = sides.map((four) => {
    const lines = four.map(({ points }) => straightLine(points, lens));
    const corner = (k: number): Point => bend(lens, crossing(lines[(k + 3) % 4]!, lines[k]!));
    return {
      corners: [corner(0), corner(1), corner(2), corner(3)] as const,
      seen: Math.min(...four.map(({ seen }) => seen)),
    };
  });
  return { outlines, lens };
};

/**
 * Tangent of the angle at which the thickness behind a side is seen, by where the side stands from the middle of the
 * picture: positive when its outer side faces the camera.
 */
const askance = ({ width, height }: Pixels, from: Point, to: Point): number => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const x = (from[0] + to[0] - width) / 2;
  const y = (from[1] + to[1] - height) / 2;
  return -(x * (to[1] - from[1]) - y * (to[0] - from[0])) / (length * focalShare * Math.max(width, height));
};

const between = (from: Point, to: Point): Point[] =>
  Array.from({ length: 8 }, (_, i) => [from[0] + ((to[0] - from[0]) * i) / 7, from[1] + ((to[1] - from[1]) * i) / 7]);
