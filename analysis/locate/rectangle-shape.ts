import type { Quad } from "../pixels.ts";

/** Size of the picture that corners are measured in, px. */
export interface Frame {
  readonly width: number;
  readonly height: number;
}

/**
 * Focal length over the picture's longest side that phones' main cameras have: 24 to 28 mm on 36 x 24 mm give 0.69 to
 * 0.81 on a 4:3 picture. Common practice, no source. Within 15 degrees of tilt the error of this guess moves a ratio by
 * less than half a percent.
 */
export const focalShare = 0.75;

/**
 * Width over height of the flat rectangle that is seen as `corners`, and the cosine of the angle between its sides
 * (0 for a rectangle), for a camera whose axis meets the middle of the frame.
 * Source: columns of the homography from the unit square, seen through the inverse of the camera matrix (textbook geometry).
 */
export const shapeOf = ([a, b, c, d]: Quad, frame: Frame): { ratio: number; skew: number } => {
  const f = focalShare * Math.max(frame.width, frame.height);
  const cx = frame.width / 2;
  const cy = frame.height / 2;
  const sx = a[0] - b[0] + c[0] - d[0];
  const sy = a[1] - b[1] + c[1] - d[1];
  const dx1 = b[0] - c[0];
  const dx2 = d[0] - c[0];
  const dy1 = b[1] - c[1];
  const dy2 = d[1] - c[1];
  const den = dx1 * dy2 - dx2 * dy1;
  const g = (sx * dy2 - dx2 * sy) / den;
  const h = (dx1 * sy - sx * dy1) / den;
  const u = [(b[0] - a[0] + g * (b[0] - cx)) / f, (b[1] - a[1] + g * (b[1] - cy)) / f, g] as const;
  const v = [(d[0] - a[0] + h * (d[0] - cx)) / f, (d[1] - a[1] + h * (d[1] - cy)) / f, h] as const;
  const lengthU = Math.hypot(u[0], u[1], u[2]);
  const lengthV = Math.hypot(v[0], v[1], v[2]);
  return { ratio: lengthU / lengthV, skew: (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / (lengthU * lengthV) };
};

/** Spread of the log ratio and of the skew of a leaf rightly outlined: it is made to 2 mm, the focal length is a guess. */
const ratioSpread = 0.005;
const skewSpread = 0.003;

/** Squared misfit, in spreads, of corners to a rectangle of this size; up to about 6 is chance. */
export const shapeMisfit = (corners: Quad, frame: Frame, widthMm: number, heightMm: number): number => {
  const { ratio, skew } = shapeOf(corners, frame);
  return (Math.log((ratio * heightMm) / widthMm) / ratioSpread) ** 2 + (skew / skewSpread) ** 2;
};
