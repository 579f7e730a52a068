import { type Lens, plainLens, straighten } from "../lens.ts";
import type { Pixels, Point, Quad } from "../pixels.ts";
import { faceEdge } from "./face-edge.ts";
import { askance, chooseSides, nearestSides, offeredSides, type RoughOutline, thicknessMm } from "./leaf-sides.ts";
import { lensFromEdges } from "./lens-bow.ts";
import { fitRow } from "./row-fit.ts";
import type { SideOption } from "./side-options.ts";

/**
 * An outline to a fraction of a px; the least share of any side along which the face was seen to end there; and how hard
 * it was to bring into the row, in squared spreads (row-fit.ts).
 */
export interface SharpOutline {
  readonly corners: Quad;
  readonly seen: number;
  readonly strain: number;
}

/** How far about a fitted side the face's end is looked for, mm, first and then. */
const edgeReachMm = [10, 4];

/** Spread of the strongest edge outside a side, mm: of the thickness behind it and of its shadow some shows, and is stronger. */
const strongestMm = 2;

/** Spread of the face's end as seen, outside the true one, mm: a strip of thickness or shadow too narrow to be told from the face. */
const faceEndMm = 1;

/** How often sides are chosen anew after the row was fitted to the former choice. */
const mostChanges = 2;

/**
 * Sharpens rough outlines (left to right) at full resolution. Of the edges that run along a side the shape of the leaf chooses,
 * then the whole row, fitted with its lens and camera at once; last, the places where the faces end are fitted.
 */
export const sharpenOutlines = (
  pixels: Pixels,
  rough: readonly RoughOutline[],
  reachPx: number,
): { outlines: SharpOutline[]; lens: Lens } => {
  const offered = rough.map((outline, i) => offeredSides(pixels, outline, i > 0, i < rough.length - 1, reachPx));
  const likeliest = lensFromEdges(
    offered.flatMap((four) => four.flatMap(([first]) => (first && first.seen > 0.5 ? [first.points] : []))),
    plainLens(pixels.width, pixels.height),
  );
  let chosen = offered.map((four, i) => chooseSides(four, rough[i]!, pixels, likeliest));
  let fitted = fitRow(withSides(rough, chosen), pixels, likeliest, strongestMm);
  for (let again = 0; again < mostChanges; again++) {
    const { leaves, lens } = fitted;
    const better = offered.map((four, i) => nearestSides(four, straightQuad(leaves[i]!.corners, lens), lens));
    if (better.every((four, i) => four.every((side, k) => side === chosen[i]![k]))) break;
    chosen = better;
    fitted = fitRow(withSides(rough, chosen), pixels, lens, strongestMm);
  }
  let ends: FaceEnd[][] = [];
  for (const reachMm of edgeReachMm) {
    const { leaves, lens } = fitted;
    ends = rough.map((outline, i) => faceEnds(pixels, leaves[i]!.corners, outline, lens, reachMm));
    const seen = rough.map((outline, i) => ({
      ...outline,
      corners: leaves[i]!.corners,
      sides: ends[i]!.map(({ stretches }) => stretches.flat()),
    }));
    fitted = fitRow(seen, pixels, lens, faceEndMm);
  }
  const { leaves, lens } = fitted;
  const outlines = leaves.map(({ corners, strain }, i) => {
    const straight = straightQuad(corners, lens);
    return { corners, strain, seen: Math.min(...ends[i]!.map((end, k) => shareOn(end, straight, k, lens))) };
  });
  return { outlines, lens };
};

/** A leaf with what was seen of its sides; the rough place of a side that was not seen tells nothing. */
const withSides = (rough: readonly RoughOutline[], chosen: readonly (readonly SideOption[])[]) =>
  rough.map((outline, i) => ({ ...outline, sides: chosen[i]!.map(({ points, seen }) => (seen > 0 ? points : [])) }));

const straightQuad = ([a, b, c, d]: Quad, lens: Lens): Quad => [
  straighten(lens, a),
  straighten(lens, b),
  straighten(lens, c),
  straighten(lens, d),
];

/** Where the face ends along one side, stretch by stretch, how much of the leaf's thickness may show beyond, px, and the scale. */
interface FaceEnd {
  readonly stretches: readonly (readonly Point[])[];
  readonly thicknessPx: number;
  readonly pxPerMm: number;
}

const faceEnds = (
  pixels: Pixels,
  corners: Quad,
  { heightMm }: RoughOutline,
  lens: Lens,
  reachMm: number,
): FaceEnd[] => {
  const straight = straightQuad(corners, lens);
  const [a, , , d] = straight;
  const pxPerMm = Math.hypot(d[0] - a[0], d[1] - a[1]) / heightMm;
  return straight.map((from, k) => {
    const to = straight[((k + 1) % 4) as 0];
    const thicknessPx = thicknessMm * pxPerMm * Math.max(0, askance(pixels, from, to));
    return { stretches: faceEdge(pixels, lens, from, to, pxPerMm, reachMm, thicknessPx > 0), thicknessPx, pxPerMm };
  });
};

/** How far off its side a place still lies on it: blur in px, the eased edge and the shadow beside it in mm, whichever is more. */
const onSidePx = 2;
const onSideMm = 2;

/** Share of the stretches of a side that end on it, or beyond it by no more than the thickness that shows. */
const shareOn = ({ stretches, thicknessPx, pxPerMm }: FaceEnd, straight: Quad, k: number, lens: Lens): number => {
  const from = straight[k as 0];
  const to = straight[((k + 1) % 4) as 0];
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const near = Math.max(onSidePx, onSideMm * pxPerMm);
  const on = stretches.filter((places) =>
    places.some((place) => {
      const [x, y] = straighten(lens, place);
      const off = ((x - from[0]) * (to[1] - from[1]) - (y - from[1]) * (to[0] - from[0])) / length;
      return off > -near && off < near + thicknessPx;
    }),
  );
  return on.length / stretches.length;
};
