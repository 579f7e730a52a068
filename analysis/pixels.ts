/** Which curve and primaries the code values of a photo follow. */
export type Encoding = "srgb" | "display-p3";

/**
 * An upright photo as decoded: 8-bit code values, three channels interleaved row by row, profile not applied.
 * Length of `data` is width * height * 3.
 */
export interface Pixels {
  readonly data: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly encoding: Encoding;
}

/** A place in the upright photo, px; (0, 0) is the outer corner of the top left pixel, so its centre is (0.5, 0.5). */
export type Point = readonly [x: number, y: number];

/** Four corners in the order top left, top right, bottom right, bottom left of the thing as seen upright. */
export type Quad = readonly [Point, Point, Point, Point];
