import { apply3, type Matrix3, multiply3, type Vector3 } from "../algebra/matrix3.ts";
import type { Point, Quad } from "../pixels.ts";
import { type Frame, focalShare } from "./rectangle-shape.ts";

export interface Size {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Spread of an unknown of which nothing is known beforehand. */
export const free = Number.POSITIVE_INFINITY;

const degree = Math.PI / 180;

/**
 * Unknowns of one leaf, with their prior spread: its middle right and down of the picture's (tangents; free); turned in the
 * wall's plane, about its upright axis and about its level one against the wall, since it stands on blocks and leans
 * (15 mm over a width, 35 mm over a height); its front before or behind the others', as a share of the distance (20 mm at 2 m);
 * width and height off the ordered ones, as shares (made to 1 to 2 mm). Common practice, no source.
 */
export const leafSpread: readonly number[] = [free, free, 0.5 * degree, degree, degree, 0.01, 0.0015, 0.0007];
export const leafUnknowns = leafSpread.length;

/**
 * Unknowns of the camera, with their prior spread: log of its focal length over the usual one (24 to 28 mm phones: 6 %);
 * k1 of a lens whose bow the phone has taken out but for a rest (r in half diagonals); pitch, yaw and roll of the wall
 * against it, and log of the wall's distance in mm (all free). Common practice, no source.
 */
export const cameraSpread: readonly number[] = [0.06, 0.02, free, free, free, free];
export const cameraUnknowns = cameraSpread.length;

/** Corners of a leaf in the straightened picture, px. */
export const cornersInRow = (
  camera: ArrayLike<number>,
  leaf: ArrayLike<number>,
  { widthMm, heightMm }: Size,
  frame: Frame,
): Quad => {
  const f = Math.exp(camera[0]!) * focalShare * Math.max(frame.width, frame.height);
  const [pitch, yaw, roll] = [camera[2]!, camera[3]!, camera[4]!];
  const square = apply3(rotation(pitch, yaw, roll), [0, 0, 1]);
  const sight: Vector3 = [leaf[0]!, leaf[1]!, 1];
  const toWall = Math.exp(camera[5]!) / (square[0] * sight[0] + square[1] * sight[1] + square[2]);
  const depth = toWall * (1 + leaf[5]!);
  const turn = rotation(pitch + leaf[4]!, yaw + leaf[3]!, roll + leaf[2]!);
  const w = (widthMm * (1 + leaf[6]!)) / 2;
  const h = (heightMm * (1 + leaf[7]!)) / 2;
  const at = (right: number, down: number): Point => {
    const [x, y, z] = apply3(turn, [right, down, 0]);
    const far = depth + z;
    return [
      frame.width / 2 + (f * (depth * sight[0] + x)) / far,
      frame.height / 2 + (f * (depth * sight[1] + y)) / far,
    ];
  };
  return [at(-w, -h), at(w, -h), at(w, h), at(-w, h)];
};

/** Turned about the camera's level axis, then its upright one, then its own. */
const rotation = (pitch: number, yaw: number, roll: number): Matrix3 => {
  const [sx, cx] = [Math.sin(pitch), Math.cos(pitch)];
  const [sy, cy] = [Math.sin(yaw), Math.cos(yaw)];
  const [sz, cz] = [Math.sin(roll), Math.cos(roll)];
  const aboutLevel: Matrix3 = [1, 0, 0, 0, cx, -sx, 0, sx, cx];
  const aboutUpright: Matrix3 = [cy, 0, sy, 0, 1, 0, -sy, 0, cy];
  return multiply3(multiply3(aboutLevel, aboutUpright), [cz, -sz, 0, sz, cz, 0, 0, 0, 1]);
};
