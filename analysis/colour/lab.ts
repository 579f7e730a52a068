import { apply3, diagonal3, inverse3, type Matrix3, multiply3, type Vector3 } from "../algebra/matrix3.ts";

declare const white: unique symbol;

/** CIELAB seen in daylight D65, 2 degree observer. The white is part of the type: a D50 colour does not fit. */
export type Lab65 = readonly [L: number, a: number, b: number] & { readonly [white]?: "D65" };

/** CIELAB in D50, 2 degree observer, as charts of the graphic trades are stated. */
export type Lab50 = readonly [L: number, a: number, b: number] & { readonly [white]?: "D50" };

const whitePoint = (x: number, y: number): Vector3 => [x / y, 1, (1 - x - y) / y];

/** XYZ of the whites, Y = 1, from the chromaticities .3127 .3290 and .3457 .3585 (as in culori and colour-science). */
export const d65White = whitePoint(0.3127, 0.329);
export const d50White = whitePoint(0.3457, 0.3585);

/** Constants of ISO/CIE 11664-4. */
const epsilon = 216 / 24389;
const kappa = 24389 / 27;

const compress = (t: number): number => (t > epsilon ? Math.cbrt(t) : (kappa * t + 16) / 116);
const expand = (f: number): number => (f ** 3 > epsilon ? f ** 3 : (116 * f - 16) / kappa);

/** CIELAB of XYZ against a white, by ISO/CIE 11664-4. */
export const xyzToLab = ([X, Y, Z]: Vector3, [Xn, Yn, Zn]: Vector3): Vector3 => {
  const fy = compress(Y / Yn);
  return [116 * fy - 16, 500 * (compress(X / Xn) - fy), 200 * (fy - compress(Z / Zn))];
};

/** XYZ of CIELAB against a white; the inverse of `xyzToLab`. */
export const labToXyz = ([L, a, b]: Vector3, [Xn, Yn, Zn]: Vector3): Vector3 => {
  const fy = (L + 16) / 116;
  return [Xn * expand(fy + a / 500), Yn * expand(fy), Zn * expand(fy - b / 200)];
};

export const xyzToLab65 = (xyz: Vector3): Lab65 => xyzToLab(xyz, d65White);
export const lab65ToXyz = (lab: Lab65): Vector3 => labToXyz(lab, d65White);

/** Derivatives of L, a, b by X, Y, Z at an XYZ colour in D65: the Jacobian that carries a covariance into Lab. */
export const lab65Slopes = ([X, Y, Z]: Vector3): Matrix3 => {
  const [Xn, Yn, Zn] = d65White;
  const slope = (t: number) => (t > epsilon ? 1 / (3 * Math.cbrt(t) ** 2) : kappa / 116);
  const x = slope(X / Xn) / Xn;
  const y = slope(Y / Yn) / Yn;
  const z = slope(Z / Zn) / Zn;
  return [0, 116 * y, 0, 500 * x, -500 * y, 0, 0, 200 * y, -200 * z];
};

/** Cone responses of the Bradford adaptation, as carried in colour-science and colormath. */
const bradford: Matrix3 = [0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296];

/** Matrix that takes XYZ seen in one white to XYZ that looks the same in another (Bradford). */
export const adaptWhite = (from: Vector3, to: Vector3): Matrix3 => {
  const a = apply3(bradford, from);
  const b = apply3(bradford, to);
  const scale = diagonal3([b[0] / a[0], b[1] / a[1], b[2] / a[2]]);
  return multiply3(inverse3(bradford), multiply3(scale, bradford));
};

/** A D50 colour as seen in D65 (Bradford). */
export const lab65FromLab50 = (lab: Lab50): Lab65 =>
  xyzToLab65(apply3(adaptWhite(d50White, d65White), labToXyz(lab, d50White)));
