/** CIELAB: L*, a*, b*. Which white it stands under is said by the name of the variable or function. */
export type Lab = readonly [L: number, a: number, b: number];
/** Linear light in sRGB primaries, D65; 1 is a perfect white. May leave 0..1 for colours outside sRGB. */
export type Rgb = readonly [r: number, g: number, b: number];
type Row = readonly [number, number, number];
export type Matrix = readonly [Row, Row, Row];

/** Whites of the 2 degree observer, Y = 1: D65 from x 0.3127, y 0.3290, D50 as ASTM E308 rounds it. From memory. */
const whiteD65: Row = [0.3127 / 0.329, 1, 0.3583 / 0.329];
const whiteD50: Row = [0.96422, 1, 0.82521];

/** IEC 61966-2-1 primaries, from memory. */
const xyzOfSrgb: Matrix = [
  [0.4123908, 0.3575843, 0.1804808],
  [0.212639, 0.7151687, 0.0721923],
  [0.0193308, 0.1191948, 0.9505322],
];
const srgbOfXyz: Matrix = [
  [3.2409699, -1.5373832, -0.4986108],
  [-0.9692436, 1.8759675, 0.0415551],
  [0.0556301, -0.203977, 1.0569715],
];
/** Display P3: SMPTE RP 431-2 primaries with a D65 white, from memory. */
const p3OfXyz: Matrix = [
  [2.4934969, -0.9313836, -0.4027108],
  [-0.829489, 1.7626641, 0.0236247],
  [0.0358458, -0.0761724, 0.9568845],
];
/** Bradford cones and their inverse, from memory. */
const cones: Matrix = [
  [0.8951, 0.2664, -0.1614],
  [-0.7502, 1.7135, 0.0367],
  [0.0389, -0.0685, 1.0296],
];
const fromCones: Matrix = [
  [0.9869929, -0.1470543, 0.1599627],
  [0.4323053, 0.5183603, 0.0492912],
  [-0.0085287, 0.0400428, 0.9684867],
];

export const times = (m: Matrix, v: Row): Row => [
  m[0][0] * v[0] + m[0][1] * v[1] + m[0][2] * v[2],
  m[1][0] * v[0] + m[1][1] * v[1] + m[1][2] * v[2],
  m[2][0] * v[0] + m[2][1] * v[1] + m[2][2] * v[2],
];

const cubeOf = (t: number): number => (t > 6 / 29 ? t ** 3 : 3 * (6 / 29) ** 2 * (t - 4 / 29));
const rootOf = (t: number): number => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);

/** CIE 15, from memory. */
const xyzOfLab = ([L, a, b]: Lab, white: Row): Row => {
  const y = (L + 16) / 116;
  return [white[0] * cubeOf(y + a / 500), white[1] * cubeOf(y), white[2] * cubeOf(y - b / 200)];
};

/** Linear light of a Lab colour under D65. */
export const rgbOfLab65 = (lab: Lab): Rgb => times(srgbOfXyz, xyzOfLab(lab, whiteD65));

/** Lab under D65 of linear light. */
export const lab65OfRgb = (rgb: Rgb): Lab => {
  const [x, y, z] = times(xyzOfSrgb, rgb);
  const fx = rootOf(x / whiteD65[0]);
  const fy = rootOf(y / whiteD65[1]);
  const fz = rootOf(z / whiteD65[2]);
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
};

const adapted = (xyz: Row): Row => {
  const from = times(cones, whiteD50);
  const to = times(cones, whiteD65);
  const [l, m, s] = times(cones, xyz);
  return times(fromCones, [(l * to[0]) / from[0], (m * to[1]) / from[1], (s * to[2]) / from[2]]);
};

/** X, Y, Z of a Lab colour under D50, Y of white being 1. */
export const xyzOfLab50 = (lab: Lab): Row => xyzOfLab(lab, whiteD50);

/** Linear light of a Lab colour given under D50, adapted by Bradford. */
export const rgbOfLab50 = (lab: Lab): Rgb => times(srgbOfXyz, adapted(xyzOfLab50(lab)));

/** Linear light of X, Y, Z, Y of white being 1. */
export const rgbOfXyz = (xyz: Row): Rgb => times(srgbOfXyz, xyz);

/** Linear light in the primaries of Display P3. */
export const p3OfRgb = (rgb: Rgb): Rgb => times(p3OfXyz, times(xyzOfSrgb, rgb));

/** The curve that sRGB and Display P3 share: linear 0..1 to code 0..1. */
export const encode = (v: number): number => (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);
/** The same, backwards. */
export const decode = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
