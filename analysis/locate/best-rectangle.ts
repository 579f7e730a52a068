import type { Quad } from "../pixels.ts";
import { crossing, type Line } from "./lens-bow.ts";
import { type Frame, shapeMisfit } from "./rectangle-shape.ts";

/** A line that may be a side, with what choosing it costs, in squared spreads of shape. */
export interface SideChoice {
  readonly line: Line;
  readonly cost: number;
}

/** The choices for the top, right, bottom and left side. */
export type FourSides = readonly [SideChoice[], SideChoice[], SideChoice[], SideChoice[]];

/** Corners, from the lines of the top, right, bottom and left side. */
export const quadOf = (top: Line, right: Line, bottom: Line, left: Line): Quad => [
  crossing(left, top),
  crossing(top, right),
  crossing(right, bottom),
  crossing(bottom, left),
];

/** Which choice to take for each side, so that the rectangle of this size fits best at the least cost. */
export const bestRectangle = (
  [tops, rights, bottoms, lefts]: FourSides,
  frame: Frame,
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
): readonly [number, number, number, number] => {
  let best: readonly [number, number, number, number] = [0, 0, 0, 0];
  let least = Number.POSITIVE_INFINITY;
  for (const [t, top] of tops.entries()) {
    for (const [r, right] of rights.entries()) {
      for (const [b, bottom] of bottoms.entries()) {
        for (const [l, left] of lefts.entries()) {
          const misfit = shapeMisfit(quadOf(top.line, right.line, bottom.line, left.line), frame, widthMm, heightMm);
          const cost = misfit + top.cost + right.cost + bottom.cost + left.cost;
          if (cost < least) {
            least = cost;
            best = [t, r, b, l];
          }
        }
      }
    }
  }
  return best;
};
