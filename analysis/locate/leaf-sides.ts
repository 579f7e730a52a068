import { median } from "../algebra/robust.ts";
import { type Lens, straighten } from "../lens.ts";
import type { Pixels, Point, Quad } from "../pixels.ts";
import { bestRectangle, type FourSides } from "./best-rectangle.ts";
import { straightLine } from "./lens-bow.ts";
import { type Frame, focalShare } from "./rectangle-shape.ts";
import { type SideOption, sideOptions } from "./side-options.ts";

/** Thickest leaf, mm: common practice 35 to 54, no source; the usual fire door is 44. */
export const thicknessMm = 54;

/** Gap, mm, within which the edge of the next leaf in a row may be taken for a leaf's own. */
const gapMm = 40;

/** Sine of how far a leaf may be turned away from the picture's plane when its thickness is looked for. */
const turned = 0.1;

/** An outline as roughly known: corners in photo px, and the size of the leaf that it should be. */
export interface RoughOutline {
  readonly corners: Quad;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** The edges that may be the top, right, bottom and left of a leaf, the likeliest first; its rough place where nothing is seen. */
export const offeredSides = (
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
export const chooseSides = (
  four: readonly SideOption[][],
  size: RoughOutline,
  frame: Frame,
  lens: Lens,
): SideOption[] => {
  const choices = four.map((options) =>
    options.map(({ points }, place) => ({ line: straightLine(points, lens), cost: optionCost * place })),
  );
  const best = bestRectangle(choices as unknown as FourSides, frame, size);
  return four.map((options, k) => options[best[k as 0]]!);
};

/** For each side the edge that lies nearest to where the row says it is. */
export const nearestSides = (four: readonly SideOption[][], corners: Quad, lens: Lens): SideOption[] =>
  four.map((options, k) => {
    const from = corners[k as 0];
    const to = corners[((k + 1) % 4) as 0];
    const off = options.map(({ points }) =>
      Math.abs(
        medianOff(
          points.map((place) => straighten(lens, place)),
          from,
          to,
        ),
      ),
    );
    return options[off.indexOf(Math.min(...off))]!;
  });

const medianOff = (places: readonly Point[], from: Point, to: Point): number => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return median(
    places.map(([x, y]) => ((x - from[0]) * (to[1] - from[1]) - (y - from[1]) * (to[0] - from[0])) / length),
  );
};

/**
 * Tangent of the angle at which the thickness behind a side is seen, by where the side stands from the middle of the
 * picture: positive when its outer side faces the camera.
 */
export const askance = ({ width, height }: Pixels, from: Point, to: Point): number => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const x = (from[0] + to[0] - width) / 2;
  const y = (from[1] + to[1] - height) / 2;
  return -(x * (to[1] - from[1]) - y * (to[0] - from[0])) / (length * focalShare * Math.max(width, height));
};

const between = (from: Point, to: Point): Point[] =>
  Array.from({ length: 8 }, (_, i) => [from[0] + ((to[0] - from[0]) * i) / 7, from[1] + ((to[1] - from[1]) * i) / 7]);
