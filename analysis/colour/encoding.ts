import { apply3, diagonal3, identity3, inverse3, type Matrix3, multiply3, type Vector3 } from "../algebra/matrix3.ts";
import type { Encoding } from "../pixels.ts";
import { d65White } from "./lab.ts";

/**
 * Linear light 0..1 of a code value 0..1. sRGB and Display P3 share this curve.
 * Source: IEC 61966-2-1, as carried in scikit-image and culori.
 */
export const decodeCurve = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);

/** Code value 0..1 of linear light 0..1; the inverse of `decodeCurve`. */
export const encodeCurve = (x: number): number => (x <= 0.0031308 ? 12.92 * x : 1.055 * x ** (1 / 2.4) - 0.055);

/** Linear light of the 256 code values of an 8-bit photo. */
export const decodeTable = (): Float64Array => Float64Array.from({ length: 256 }, (_, code) => decodeCurve(code / 255));

/** Matrix from linear RGB to XYZ (Y of white = 1) of primaries and a white given as chromaticities x, y. */
const rgbToXyz = (primaries: readonly [red: Xy, green: Xy, blue: Xy], white: Vector3): Matrix3 => {
  const [r, g, b] = primaries.map(([x, y]) => [x / y, 1, (1 - x - y) / y] as const) as [Vector3, Vector3, Vector3];
  const columns: Matrix3 = [r[0], g[0], b[0], r[1], g[1], b[1], r[2], g[2], b[2]];
  return multiply3(columns, diagonal3(apply3(inverse3(columns), white)));
};

type Xy = readonly [x: number, y: number];

/** Linear sRGB to XYZ, D65. Primaries: IEC 61966-2-1. */
export const srgbToXyz: Matrix3 = rgbToXyz(
  [
    [0.64, 0.33],
    [0.3, 0.6],
    [0.15, 0.06],
  ],
  d65White,
);

/** Linear Display P3 to XYZ, D65. Primaries: SMPTE RP 431-2 (from memory), the values culori carries. */
const displayP3ToXyz: Matrix3 = rgbToXyz(
  [
    [0.68, 0.32],
    [0.265, 0.69],
    [0.15, 0.06],
  ],
  d65White,
);

export const xyzToSrgb: Matrix3 = inverse3(srgbToXyz);

/** Linear RGB of an encoding to linear RGB in sRGB primaries; may leave 0..1, and is not clipped. */
export const toSrgbPrimaries = (encoding: Encoding): Matrix3 =>
  encoding === "srgb" ? identity3 : multiply3(xyzToSrgb, displayP3ToXyz);
