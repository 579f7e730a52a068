import { createRequire } from "node:module";
import { compose, type Homography } from "../../analysis/homography.ts";
import type { Pixels } from "../../analysis/pixels.ts";

type OpenCv = typeof import("@techstark/opencv-js");

/** Loads in a third of a second. The module has a `then` of its own that never ends, so it must not be awaited or returned from a promise. */
const load = (): { readonly cv: OpenCv; readonly ready: Promise<void> } => {
  const cv = createRequire(import.meta.url)("@techstark/opencv-js") as OpenCv;
  return {
    cv,
    ready: new Promise((resolve) => {
      cv.onRuntimeInitialized = () => resolve();
    }),
  };
};

/** OpenCV's perspective warp of a photo to a face of `width` x `height` px, copies in and out included: 8-bit codes. */
export const warpPerspective = async (
  { data, width, height }: Pixels,
  toPhoto: Homography,
  face: { readonly width: number; readonly height: number },
): Promise<() => Uint8Array> => {
  const { cv, ready } = load();
  await ready;
  // OpenCV counts places from the middle of the first pixel, we from its corner.
  const [half, back]: Homography[] = [
    [1, 0, 0.5, 0, 1, 0.5, 0, 0, 1],
    [1, 0, -0.5, 0, 1, -0.5, 0, 0, 1],
  ];
  const matrix = compose(back!, compose(toPhoto, half!));
  return () => {
    const photo = cv.matFromArray(height, width, cv.CV_8UC3, data as unknown as number[]);
    const straight = new cv.Mat();
    const way = cv.matFromArray(3, 3, cv.CV_64F, [...matrix]);
    const size = new cv.Size(face.width, face.height);
    cv.warpPerspective(photo, straight, way, size, cv.INTER_LINEAR | cv.WARP_INVERSE_MAP);
    const codes = new Uint8Array(straight.data);
    for (const held of [photo, straight, way]) held.delete();
    return codes;
  };
};
