import { inverse3, type Matrix3, multiply3 } from "./algebra/matrix3.ts";
import type { Point } from "./pixels.ts";

/** A 3 x 3 matrix row by row, the last number 1, that takes (x, y, 1) of one plane to another up to a factor. */
export type Homography = Matrix3;

/** Where a point of the first plane lies in the second. Not finite when it lies on the horizon. */
export const project = (h: Homography, [x, y]: Point): Point => {
  const w = h[6] * x + h[7] * y + h[8];
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
};

/** The way back. */
export const invert = (h: Homography): Homography => scaledToOne(inverse3(h));

/** First `inner`, then `outer`. */
export const compose = (outer: Homography, inner: Homography): Homography => scaledToOne(multiply3(outer, inner));

/**
 * The homography that takes `from[i]` to `to[i]`: exact for four points, least squares in the second plane beyond
 * (normalised direct linear transformation). `null` when fewer than four pairs come or three of four lie on a line.
 * Source: R. Hartley, "In defense of the eight-point algorithm", IEEE PAMI 19 (1997), for the normalisation (from memory).
 * Check values: tests/published/homography-points.ts.
 */
export const fitHomography = (from: readonly Point[], to: readonly Point[]): Homography | null => {
  if (from.length < 4 || from.length !== to.length) return null;
  const inner = normalisation(from);
  const outer = normalisation(to);
  const system = new Float64Array(8 * 9);
  const row = new Float64Array(9);
  for (let i = 0; i < from.length; i++) {
    const [x, y] = project(inner, from[i]!);
    const [u, v] = project(outer, to[i]!);
    row.set([x, y, 1, 0, 0, 0, -u * x, -u * y, u]);
    addSquare(system, row);
    row.set([0, 0, 0, x, y, 1, -v * x, -v * y, v]);
    addSquare(system, row);
  }
  const h = solve(system, 8);
  if (h === null) return null;
  const normal: Homography = [h[0]!, h[1]!, h[2]!, h[3]!, h[4]!, h[5]!, h[6]!, h[7]!, 1];
  if (Math.abs(determinant(normal)) < singularPivot) return null;
  return compose(invert(outer), compose(normal, inner));
};

/** Greatest distance between where `from[i]` goes and `to[i]`, in the unit of the second plane (mm on a card or a face). */
export const worstMisfit = (h: Homography, from: readonly Point[], to: readonly Point[]): number =>
  Math.max(
    ...from.map((p, i) => {
      const [x, y] = project(h, p);
      return Math.hypot(x - to[i]![0], y - to[i]![1]);
    }),
  );

const determinant = ([a, b, c, d, e, f, g, h, k]: Homography): number =>
  a * (e * k - f * h) - b * (d * k - f * g) + c * (d * h - e * g);

const scaledToOne = (h: Homography): Homography => {
  const [a, b, c, d, e, f, g, k, last] = h;
  return last === 0 ? h : [a / last, b / last, c / last, d / last, e / last, f / last, g / last, k / last, 1];
};

/** Moves the centre of the points to the origin, their mean distance from it to the square root of two. */
const normalisation = (points: readonly Point[]): Homography => {
  const n = points.length;
  const cx = points.reduce((sum, [x]) => sum + x, 0) / n;
  const cy = points.reduce((sum, [, y]) => sum + y, 0) / n;
  const mean = points.reduce((sum, [x, y]) => sum + Math.hypot(x - cx, y - cy), 0) / n;
  const s = mean === 0 ? 1 : Math.SQRT2 / mean;
  return [s, 0, -s * cx, 0, s, -s * cy, 0, 0, 1];
};

/** Adds the normal equations of one row (8 factors, then the right side) to an 8 x 9 system. */
const addSquare = (system: Float64Array, row: Float64Array): void => {
  for (let i = 0; i < 8; i++) {
    for (let j = 0; j < 9; j++) system[i * 9 + j]! += row[i]! * row[j]!;
  }
};

/** Points and matrix are scaled to about 1, so a pivot this small is rounding: 2 ^ -53 times some hundreds of additions. */
const singularPivot = 1e-10;

/** Gauss with row exchange on an n x (n + 1) system, which it uses up; `null` when singular. */
const solve = (system: Float64Array, n: number): Float64Array | null => {
  const width = n + 1;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) {
      if (Math.abs(system[i * width + k]!) > Math.abs(system[pivot * width + k]!)) pivot = i;
    }
    if (Math.abs(system[pivot * width + k]!) < singularPivot) return null;
    for (let j = 0; j < width; j++) {
      const kept = system[k * width + j]!;
      system[k * width + j] = system[pivot * width + j]!;
      system[pivot * width + j] = kept;
    }
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const factor = system[i * width + k]! / system[k * width + k]!;
      for (let j = k; j < width; j++) system[i * width + j]! -= factor * system[k * width + j]!;
    }
  }
  return Float64Array.from({ length: n }, (_, k) => system[k * width + n]! / system[k * width + k]!);
};
