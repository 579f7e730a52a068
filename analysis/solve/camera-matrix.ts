import { leastSquares } from "../algebra/least-squares.ts";
import { apply3, type Matrix3, type Vector3 } from "../algebra/matrix3.ts";
import { xyzToSrgb } from "../colour/encoding.ts";
import { type Lab65, lab65ToXyz } from "../colour/lab.ts";
import { model } from "./model-constants.ts";

/** A patch as a camera saw it once its light was taken off, and as it is. */
export interface SeenColour {
  readonly camera: Vector3;
  readonly lab: Lab65;
}

/**
 * The matrix from a camera's channels to linear sRGB that takes the patches nearest to what they are, errors counted
 * against their luminance, held to a matrix from before within `spread`.
 */
export const fitCameraMatrix = (patches: readonly SeenColour[], before: Matrix3, spread: number): Matrix3 => {
  if (patches.length === 0) return before;
  const known = patches.map(({ lab }) => lab65ToXyz(lab));
  const error = known.map(([, luminance]) => model.patchColour * (luminance + 0.02));
  const targets = known.map((xyz) => apply3(xyzToSrgb, xyz));
  const design = Float64Array.from([
    ...patches.flatMap(({ camera }, i) => camera.map((value) => value / error[i]!)),
    ...[1, 0, 0, 0, 1, 0, 0, 0, 1].map((value) => value / spread),
  ]);
  const rows = ([0, 1, 2] as const).map((row) =>
    leastSquares(design, 3, [
      ...targets.map((target, i) => target[row] / error[i]!),
      ...[0, 1, 2].map((column) => before[3 * row + column]! / spread),
    ]),
  );
  const [r, g, b] = rows;
  if (r?.kind !== "fitted" || g?.kind !== "fitted" || b?.kind !== "fitted") return before;
  return [...r.estimate, ...g.estimate, ...b.estimate] as unknown as Matrix3;
};
