import { withoutCovers } from "../../analysis/grain/covers.ts";
import { grainFigure } from "../../analysis/grain/figure.ts";
import { fitHomography } from "../../analysis/homography.ts";
import { plainLens } from "../../analysis/lens.ts";
import { findMarks } from "../../analysis/marks/find-marks.ts";
import { resample } from "../../analysis/rectify/resample.ts";
import { cornersMm } from "../../analysis/reference-card.ts";
import { decode } from "../images/decode.ts";
import type { Look, LookRequest } from "./measurement.ts";
import { xyzOf } from "./xyz-of.ts";

/** Cells fine enough for a scratch of a few mm; finer ones found no more and cost twice as much (measured on rendered faces). */
const cellMm = 1.5;

const nothing: Look = { grain: [], proposed: [] };

/** The figure of the grain of every part of a face, and the places the grain does not explain. */
export const lookClosely = async ({ path, corners, layout, covers }: LookRequest): Promise<Look> => {
  const { pixels, encoding } = await decode(path);
  const toPhoto = fitHomography(cornersMm(layout.widthMm, layout.heightMm), corners);
  if (!encoding || !toPhoto) return nothing;
  const toXyz = xyzOf(encoding);
  const { widthMm, heightMm, parts } = layout;
  const lens = plainLens(pixels.width, pixels.height);
  const grid = withoutCovers(resample(pixels, { widthMm, heightMm, toPhoto, lens }, cellMm), covers);
  return {
    grain: parts.flatMap((part) => {
      const seen = grainFigure(grid, part, toXyz);
      if (!seen) return [];
      const { directionDeg, pitchMm, contrastL, figure } = seen;
      return [{ part: part.name, directionDeg, pitchMm, contrastL, figure }];
    }),
    proposed: findMarks(grid, layout, toXyz),
  };
};
