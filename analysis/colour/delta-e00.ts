import type { Vector3 } from "../algebra/matrix3.ts";
import type { Lab65 } from "./lab.ts";

const cos30 = Math.cos(Math.PI / 6);
const sin30 = 0.5;
const cos6 = Math.cos(Math.PI / 30);
const sin6 = Math.sin(Math.PI / 30);
const cos63 = Math.cos((63 * Math.PI) / 180);
const sin63 = Math.sin((63 * Math.PI) / 180);
const cos275 = Math.cos((275 * Math.PI) / 180);
const sin275 = Math.sin((275 * Math.PI) / 180);
const to7 = 25 ** 7;

const power7 = (x: number): number => {
  const x2 = x * x;
  return x2 * x2 * x2 * x;
};

/**
 * Colour difference CIEDE2000 of two colours given as numbers, for inner loops; kL = kC = kH = 1.
 *
 * The mean hue is the direction of the sum of the two hue directions, so its sines and cosines come from
 * products and no angle is taken (one only near blue, where the rotation term is not nil).
 */
export const deltaE00Of = (L1: number, a1: number, b1: number, L2: number, a2: number, b2: number): number => {
  const meanChroma7 = power7((Math.sqrt(a1 * a1 + b1 * b1) + Math.sqrt(a2 * a2 + b2 * b2)) / 2);
  const stretch = 1.5 - 0.5 * Math.sqrt(meanChroma7 / (meanChroma7 + to7));
  const x1 = a1 * stretch;
  const x2 = a2 * stretch;
  const C1 = Math.sqrt(x1 * x1 + b1 * b1);
  const C2 = Math.sqrt(x2 * x2 + b2 * b2);
  const product = C1 * C2;
  const dL = L2 - L1;
  const dC = C2 - C1;
  const C = (C1 + C2) / 2;

  // Hue difference as a chord: (dH)^2 = 2 (C1 C2 - x1 x2 - b1 b2), its sign from the turn between the two;
  // for hues less than a right angle apart by way of the turn, where the difference of near-equal products would lose digits.
  const turn = x1 * b2 - x2 * b1;
  const across = product + x1 * x2 + b1 * b2;
  const chord2 = across > product ? (2 * turn * turn) / across : 2 * (product - x1 * x2 - b1 * b2);
  const dH = Math.sqrt(Math.max(chord2, 0)) * (turn < 0 ? -1 : 1);

  // Mean hue: a grey has no hue, so the other colour's hue stands.
  let cx = product === 0 ? x1 + x2 : x1 * C2 + x2 * C1;
  let sy = product === 0 ? b1 + b2 : b1 * C2 + b2 * C1;
  const length = Math.sqrt(cx * cx + sy * sy);
  if (length > 1e-12 * product) {
    cx /= length;
    sy /= length;
  } else if (product > 0) {
    // Opposite hues: the mean of the two angles in 0..360 is a quarter turn on from the lesser angle.
    const [px, py] = b1 > 0 || (b1 === 0 && x1 > 0) ? [x1 / C1, b1 / C1] : [x2 / C2, b2 / C2];
    cx = -py;
    sy = px;
  } else {
    cx = 1;
    sy = 0;
  }
  const c2 = cx * cx - sy * sy;
  const s2 = 2 * cx * sy;
  const c3 = c2 * cx - s2 * sy;
  const s3 = s2 * cx + c2 * sy;
  const c4 = c2 * c2 - s2 * s2;
  const s4 = 2 * c2 * s2;
  const T =
    1 - 0.17 * (cx * cos30 + sy * sin30) + 0.24 * c2 + 0.32 * (c3 * cos6 - s3 * sin6) - 0.2 * (c4 * cos63 + s4 * sin63);

  const off = (L1 + L2) / 2 - 50;
  const off2 = off * off;
  const SL = 1 + (0.015 * off2) / Math.sqrt(20 + off2);
  const SC = 1 + 0.045 * C;
  const SH = 1 + 0.015 * C * T;
  const l = dL / SL;
  const c = dC / SC;
  const h = dH / SH;
  const sum = l * l + c * c + h * h + rotation(cx, sy, C) * c * h;
  return sum > 0 ? Math.sqrt(sum) : 0;
};

/** R_T: nil to 1e-12 for mean hues more than 135 degrees below 275 (blue) or past 360, where the angle starts anew. */
const rotation = (cosHue: number, sinHue: number, chroma: number): number => {
  const near = cosHue * cos275 + sinHue * sin275;
  if (near < -0.71) return 0;
  const away = (Math.atan2(sinHue * cos275 - cosHue * sin275, near) * 180) / Math.PI;
  if (away >= 85) return 0;
  const chroma7 = power7(chroma);
  return -2 * Math.sqrt(chroma7 / (chroma7 + to7)) * Math.sin((Math.PI / 3) * Math.exp(-((away / 25) ** 2)));
};

/**
 * Colour difference CIEDE2000, no unit, 0 for equal colours; kL = kC = kH = 1.
 * Meant for differences below about 5. Not a distance in the strict sense: do not chain it.
 * Source: ISO/CIE 11664-6 (number and range from memory); Color Research and Application 30 (2005) 21-30.
 * Check values: the 34 published pairs in tests/published/ciede2000-pairs.ts, to 4 decimals.
 */
export const deltaE00 = (one: Lab65, other: Lab65): number =>
  deltaE00Of(one[0], one[1], one[2], other[0], other[1], other[2]);

/**
 * How fast the difference grows as `other` moves in L, a, b: central differences over 0.02, wide enough to be
 * smooth and narrow against any difference that matters. Near equal colours the slope has no direction and goes to 0.
 */
export const deltaE00Slopes = (one: Lab65, other: Lab65): Vector3 => {
  const step = 0.02;
  const [L, a, b] = other;
  const slope = (dL: number, da: number, db: number) =>
    (deltaE00(one, [L + dL, a + da, b + db]) - deltaE00(one, [L - dL, a - da, b - db])) / (2 * step);
  return [slope(step, 0, 0), slope(0, step, 0), slope(0, 0, step)];
};
