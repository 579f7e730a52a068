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

type Vector = readonly [number, number, number];

/**
 * Directions of the width and of the height of the flat rectangle seen as `corners`, in the space of a camera whose axis
 * meets the middle of the frame; both in the same unknown unit.
 * Source: columns of the homography from the unit square, seen through the inverse of the camera matrix (textbook geometry).
 */
const edgesInSpace = ([a, b, c, d]: Quad, frame: Frame): readonly [Vector, Vector] => {
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
  return [
    [(b[0] - a[0] + g * (b[0] - cx)) / f, (b[1] - a[1] + g * (b[1] - cy)) / f, g],
    [(d[0] - a[0] + h * (d[0] - cx)) / f, (d[1] - a[1] + h * (d[1] - cy)) / f, h],
  ];
};

const dot = (u: Vector, v: Vector): number => u[0] * v[0] + u[1] * v[1] + u[2] * v[2];

/** Width over height of the flat rectangle seen as `corners`, and the cosine of the angle between its sides (0 when square). */
export const shapeOf = (corners: Quad, frame: Frame): { ratio: number; skew: number } => {
  const [u, v] = edgesInSpace(corners, frame);
  const lengthU = Math.sqrt(dot(u, u));
  const lengthV = Math.sqrt(dot(v, v));
  return { ratio: lengthU / lengthV, skew: dot(u, v) / (lengthU * lengthV) };
};

/** Degrees between the line of sight to the middle of the rectangle and the square view of it. */
export const viewAngle = (corners: Quad, frame: Frame): number => {
  const [u, v] = edgesInSpace(corners, frame);
  const square: Vector = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const f = focalShare * Math.max(frame.width, frame.height);
  const meanOf = (axis: 0 | 1): number => corners.reduce((sum, corner) => sum + corner[axis], 0) / 4;
  const sight: Vector = [(meanOf(0) - frame.width / 2) / f, (meanOf(1) - frame.height / 2) / f, 1];
  const cosine = Math.abs(dot(square, sight)) / Math.sqrt(dot(square, square) * dot(sight, sight));
  return (Math.acos(Math.min(1, cosine)) * 180) / Math.PI;
};

/** Spread of the log ratio and of the skew of a leaf rightly outlined: it is made to 2 mm, the focal length is a guess. */
const ratioSpread = 0.005;
const skewSpread = 0.003;

/** Squared misfit, in spreads, of corners to a rectangle of this size; up to about 6 is chance. */
export const shapeMisfit = (corners: Quad, frame: Frame, widthMm: number, heightMm: number): number => {
  const { ratio, skew } = shapeOf(corners, frame);
  return (Math.log((ratio * heightMm) / widthMm) / ratioSpread) ** 2 + (skew / skewSpread) ** 2;
};
