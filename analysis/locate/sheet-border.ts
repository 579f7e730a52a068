import { plainLens } from "../lens.ts";
import type { Pixels, Point, Quad } from "../pixels.ts";
import { bestRectangle, type FourSides, quadOf, type SideChoice } from "./best-rectangle.ts";
import { straightLine } from "./lens-bow.ts";
import { sideOptions } from "./side-options.ts";

/** How far from its rough place a border is looked for, mm: a chart's border and the rows of its patches are 10 apart. */
const reachMm = 14;

/** Distance from the rough place, mm, that costs one squared spread of shape. */
const usualMm = 10;

/** Share of a border that must be seen. */
const leastSeen = 0.5;

/**
 * The corners of a flat sheet to a fraction of a px, where its four borders cross: of the edges seen near each rough
 * border, those that make the sheet's known shape. Untouched when a border is not seen. Sheets are small: the bow of the
 * lens does not count within one.
 */
export const sharpenBorder = (
  pixels: Pixels,
  corners: Quad,
  size: { readonly widthMm: number; readonly heightMm: number },
): Quad => {
  const pxPerMm = Math.hypot(corners[1][0] - corners[0][0], corners[1][1] - corners[0][1]) / size.widthMm;
  const search = { reachPx: reachMm * pxPerMm, thicknessPx: 0, neighbourPx: 0 };
  const flat = plainLens(pixels.width, pixels.height);
  const choices = corners.map((from, k) => {
    const to = corners[(k + 1) % 4]!;
    const mid: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
    return sideOptions(pixels, from, to, search).flatMap(({ points, seen }): SideChoice[] => {
      if (seen < leastSeen) return [];
      const line = straightLine(points, flat);
      const away = (mid[0] - line.at[0]) * line.along[1] - (mid[1] - line.at[1]) * line.along[0];
      return [{ line, cost: (away / (usualMm * pxPerMm)) ** 2 }];
    });
  });
  if (choices.some((lines) => lines.length === 0)) return corners;
  const [tops, rights, bottoms, lefts] = choices as unknown as FourSides;
  const [t, r, b, l] = bestRectangle([tops, rights, bottoms, lefts], pixels, size);
  return quadOf(tops[t]!.line, rights[r]!.line, bottoms[b]!.line, lefts[l]!.line);
};
