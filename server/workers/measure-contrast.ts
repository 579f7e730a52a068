import type { FaceLayout, Part } from "../../analysis/leaf-parts.ts";
import { plainLens } from "../../analysis/lens.ts";
import { type BoxMm, markContrast } from "../../analysis/marks/mark-contrast.ts";
import type { Quad } from "../../analysis/pixels.ts";
import { faceView } from "../../analysis/rectify/face-view.ts";
import { resample } from "../../analysis/rectify/resample.ts";
import { decode } from "../images/decode.ts";
import { xyzOf } from "./xyz-of.ts";

/** A place a person marked on a face that was found in a photo. */
export interface ContrastRequest {
  readonly path: string;
  readonly corners: Quad;
  readonly layout: FaceLayout;
  readonly box: BoxMm;
}

const cellMm = 1;

const boxOf = ({ rectMm: [x, y, w, h] }: Part): BoxMm => ({ x, y, w, h });

/** The part whose rectangle holds the middle of the box, else the whole face. */
const partUnder = ({ widthMm, heightMm, parts }: FaceLayout, { x, y, w, h }: BoxMm): BoxMm => {
  const holds = (part: BoxMm) =>
    x + w / 2 >= part.x && x + w / 2 <= part.x + part.w && y + h / 2 >= part.y && y + h / 2 <= part.y + part.h;
  return parts.map(boxOf).find(holds) ?? { x: 0, y: 0, w: widthMm, h: heightMm };
};

/** ΔE00 of a marked place to the timber round it; null when it is not seen, or not told apart from the grain. */
export const measureContrast = async ({ path, corners, layout, box }: ContrastRequest): Promise<number | null> => {
  const { pixels, encoding } = await decode(path);
  const view = faceView(corners, layout, plainLens(pixels.width, pixels.height));
  if (!encoding || !view) return null;
  const contrast = markContrast(resample(pixels, view, cellMm), box, partUnder(layout, box), xyzOf(encoding));
  return contrast.kind === "told-apart" ? contrast.contrastDE00 : null;
};
