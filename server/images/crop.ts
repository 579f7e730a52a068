import { compose, fitHomography } from "../../analysis/homography.ts";
import { plainLens } from "../../analysis/lens.ts";
import type { Point } from "../../analysis/pixels.ts";
import { resample } from "../../analysis/rectify/resample.ts";
import { cornersMm } from "../../analysis/reference-card.ts";
import type { CropRequest } from "../site.ts";
import { decode, toJpeg } from "./decode.ts";
import { srgbCodes } from "./srgb-codes.ts";

/** A box of a face seen straight on, cut from the photo and scaled to `pxPerMm`, as an sRGB JPEG without other metadata. */
export const crop = async (path: string, request: CropRequest): Promise<Buffer> => {
  const { pixels } = await decode(path);
  const { box, pxPerMm } = request;
  const face = fitHomography(cornersMm(request.widthMm, request.heightMm), request.corners as readonly Point[]);
  if (!face) throw new Error("the corners of the face do not span an area");
  const toPhoto = compose(face, [1, 0, box.x, 0, 1, box.y, 0, 0, 1]);
  const lens = plainLens(pixels.width, pixels.height);
  const grid = resample(pixels, { widthMm: box.w, heightMm: box.h, toPhoto, lens }, 1 / pxPerMm);
  return toJpeg({ ...grid, data: srgbCodes(grid.data, pixels.encoding) }, 88);
};
