import { bend, type Lens, plainLens, straighten } from "../lens.ts";
import type { Pixels, Point, Quad } from "../pixels.ts";
import { bestRectangle, type FourSides, quadOf } from "./best-rectangle.ts";
import { type Line, lensFromEdges, straightLine } from "./lens-bow.ts";
import { type Frame, focalShare, shapeMisfit } from "./rectangle-shape.ts";
import { type SideOption, sideOptions } from "./side-options.ts";

/** Thickest leaf, mm: common practice 35 to 54, no source; the usual fire door is 44. */
const thicknessMm = 54;

/** Gap, mm, within which the edge of the next leaf in a row may be taken for a leaf's own. */
const gapMm = 40;

/** Sine of how far a leaf may be turned away from the picture's plane when its thickness is looked for. */
const turned = 0.1;

/** An outline to a fraction of a px, the least share of any side that was seen, and its misfit to the leaf's shape. */
export interface SharpOutline {
  readonly corners: Quad;
  readonly seen: number;
  readonly misfit: number;
}

/** An outline as roughly known: corners in photo px, and the size of the leaf that it should be. */
export interface RoughOutline {
  readonly corners: Quad;
  readonly widthMm: number;
  readonly heightMm: number;
}

/**
 * Sharpens rough outlines (left to right) at full resolution. Where several edges run along a side, the shape of the leaf
 * chooses. All sides together tell the bow of the lens; corners are where the straightened sides cross, bent back into
 * the photo. A side that cannot be seen keeps its rough place.
 */
export const sharpenOutlines = (
  pixels: Pixels,
  rough: readonly RoughOutline[],
  reachPx: number,
): { outlines: SharpOutline[]; lens: Lens } => {
  const offered = rough.map((outline, i) => offeredSides(pixels, outline, i > 0, i < rough.length - 1, reachPx));
  const plain = plainLens(pixels.width, pixels.height);
  const likeliest = lensFromSides(
    offered.map((four) => four.map((options) => options[0]!)),
    plain,
  );
  const chosen = offered.map((four, i) => chooseSides(four, rough[i]!, pixels, likeliest));
  const lens = lensFromSides(chosen, plain);
  const outlines = chosen.map((four, i) => {
    const corners = cornersOf(
      four.map(({ points }) => straightLine(points, lens)),
      lens,
    );
    const { widthMm, heightMm } = rough[i]!;
    return {
      corners,
      seen: Math.min(...four.map(({ seen }) => seen)),
      misfit: shapeMisfit(straightQuad(corners, lens), pixels, widthMm, heightMm),
    };
  });
  return { outlines, lens };
};

const offeredSides = (
  pixels: Pixels,
  { corners, heightMm }: RoughOutline,
  neighbourLeft: boolean,
  neighbourRight: boolean,
  reachPx: number,
): SideOption[][] => {
  const [a, b, c, d] = corners;
  const pxPerMm = Math.hypot(c[0] + d[0] - a[0] - b[0], c[1] + d[1] - a[1] - b[1]) / (2 * heightMm);
  return corners.map((from, k) => {
    const to = corners[(k + 1) % 4]!;
    const thicknessPx = thicknessMm * pxPerMm * Math.max(0, askance(pixels, from, to) + turned);
    const beside = (k === 3 && neighbourLeft) || (k === 1 && neighbourRight);
    const neighbourPx = beside ? gapMm * pxPerMm : 0;
    const options = sideOptions(pixels, from, to, { reachPx, thicknessPx, neighbourPx }).filter(
      ({ points }) => points.length >= leastPoints,
    );
    return options.length > 0 ? options : [{ points: between(from, to), seen: 0 }];
  });
};

/** Fewer places than this on a side do not make a line. */
const leastPoints = 8;

/** What a side pays, in squared spreads of shape, for every place further down in likelihood. */
const optionCost = 2;

/** One edge for each side, so that the shape fits best at the least cost. */
const chooseSides = (four: readonly SideOption[][], size: RoughOutline, frame: Frame, lens: Lens): SideOption[] => {
  const choices = four.map((options) =>
    options.map(({ points }, place) => ({ line: straightLine(points, lens), cost: optionCost * place })),
  );
  const best = bestRectangle(choices as unknown as FourSides, frame, size);
  return four.map((options, k) => options[best[k as 0]]!);
};

const lensFromSides = (sides: readonly (readonly SideOption[])[], plain: Lens): Lens =>
  lensFromEdges(
    sides.flatMap((four) => four.filter(({ seen }) => seen > 0.5).map(({ points }) => points)),
    plain,
  );

const cornersOf = (lines: readonly Line[], lens: Lens): Quad => {
  const [top, right, bottom, left] = lines as [Line, Line, Line, Line];
  const [a, b, c, d] = quadOf(top, right, bottom, left);
  return [bend(lens, a), bend(lens, b), bend(lens, c), bend(lens, d)];
};

const straightQuad = ([a, b, c, d]: Quad, lens: Lens): Quad => [
  straighten(lens, a),
  straighten(lens, b),
  straighten(lens, c),
  straighten(lens, d),
];

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
