import { fitHomography } from "../homography.ts";
import { type Lens, straighten } from "../lens.ts";
import type { Quad } from "../pixels.ts";
import { cornersMm } from "../reference-card.ts";
import type { FaceView } from "./resample.ts";

/**
 * How a flat rectangle of known size (a face, a card, a chart) lies in a photo, from its four corners in photo px; `null`
 * when three of them lie on a line.
 */
export const faceView = (
  corners: Quad,
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
  lens: Lens,
): FaceView | null => {
  const toPhoto = fitHomography(
    cornersMm(widthMm, heightMm),
    corners.map((corner) => straighten(lens, corner)),
  );
  return toPhoto && { widthMm, heightMm, toPhoto, lens };
};
