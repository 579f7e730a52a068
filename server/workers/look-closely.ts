import { grainFigure } from "../../analysis/grain/figure.ts";
import { plainLens } from "../../analysis/lens.ts";
import { findMarks } from "../../analysis/marks/find-marks.ts";
import { withoutCovers } from "../../analysis/rectify/covers.ts";
import { faceView } from "../../analysis/rectify/face-view.ts";
import { resample } from "../../analysis/rectify/resample.ts";
import { decode } from "../images/decode.ts";
import type { Look, LookRequest } from "./measurement.ts";
import { xyzOf } from "./xyz-of.ts";

/** Cells fine enough for a scratch of a few mm; finer ones found no more and cost twice as much (measured on rendered faces). */
const cellMm = 1.5;

/** The white rim of a label and its shadow, mm round its code. */
const coverMarginMm = 12;

const nothing: Look = { grain: [], proposed: [] };

/** The figure of the grain of every part of a face, and the places the grain does not explain. */
export const lookClosely = async ({ path, corners, layout, covers }: LookRequest): Promise<Look> => {
  const { pixels, encoding } = await decode(path);
  const view = faceView(corners, layout, plainLens(pixels.width, pixels.height));
  if (!encoding || !view) return nothing;
  const toXyz = xyzOf(encoding);
  const { parts } = layout;
  const grid = withoutCovers(resample(pixels, view, cellMm), covers, coverMarginMm);
  return {
    grain: parts.flatMap((part) => grainFigure(grid, part, toXyz) ?? []),
    proposed: findMarks(grid, layout, toXyz),
  };
};
