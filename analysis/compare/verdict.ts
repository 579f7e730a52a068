import { evenNormals } from "../algebra/even-normals.ts";
import type { Matrix3, Vector3 } from "../algebra/matrix3.ts";
import { deltaE00Of } from "../colour/delta-e00.ts";
import type { Lab65 } from "../colour/lab.ts";

/** Whether two faces count as one colour, read by `kind`. `probability`: that their difference is within tolerance. */
export type Verdict =
  | { readonly kind: "match"; readonly probability: number }
  | { readonly kind: "differs"; readonly probability: number }
  | {
      readonly kind: "cannot-tell";
      readonly why: "too-uncertain" | "no-common-part" | "nothing-ties-them";
      readonly probability?: number;
    };

/**
 * The three-way rule: a match is claimed when the difference is within tolerance with at least this probability, a
 * difference when it is beyond with at least this probability, else nothing.
 * Source: JCGM 106:2012, clauses 7 and 8 (probability of conformity, guarded acceptance and rejection).
 */
export const judge = (probabilityWithin: number, confidence = 0.95): Verdict => {
  if (probabilityWithin >= confidence) return { kind: "match", probability: probabilityWithin };
  if (probabilityWithin <= 1 - confidence) return { kind: "differs", probability: probabilityWithin };
  return { kind: "cannot-tell", why: "too-uncertain", probability: probabilityWithin };
};

/** Offsets behind a probability: spread evenly, so many are off by 0.004 as a rule and by 0.02 at most in 150 tried; 2000 drawn ones by 0.004 and 0.03. */
const count = 512;

/** Offsets of L, a, b, standard normal, the same for every pair, so that equal pairs get equal verdicts. */
export const standardOffsets = (): Float64Array => evenNormals(count);

/**
 * Probability that the CIEDE2000 difference of two colours is within a tolerance, when their difference in L, a, b has
 * this covariance. Tried out, not linear: near zero the difference is not Gaussian and its slope has no direction.
 * Source: JCGM 101:2008 (propagation of distributions).
 */
export const probabilityWithin = (
  one: Lab65,
  other: Lab65,
  covariance: Matrix3,
  tolerance: number,
  offsets: Float64Array,
): number => {
  const certain = 5 * Math.sqrt(covariance[0] + covariance[4] + covariance[8]);
  const deltaE = deltaE00Of(one[0], one[1], one[2], other[0], other[1], other[2]);
  if (deltaE + certain < tolerance) return 1;
  if (deltaE - certain > tolerance) return 0;
  const root = lowerRoot(covariance);
  let within = 0;
  for (let i = 0; i < offsets.length; i += 3) {
    const [dL, da, db] = shift(root, offsets[i]!, offsets[i + 1]!, offsets[i + 2]!);
    if (deltaE00Of(one[0], one[1], one[2], other[0] + dL, other[1] + da, other[2] + db) <= tolerance) within++;
  }
  return (3 * within) / offsets.length;
};

const shift = (r: Matrix3, x: number, y: number, z: number): Vector3 => [
  r[0] * x,
  r[3] * x + r[4] * y,
  r[6] * x + r[7] * y + r[8] * z,
];

/** Lower triangular root of a covariance; a direction without variance stays without. */
const lowerRoot = (c: Matrix3): Matrix3 => {
  const divide = (a: number, b: number) => (b > 0 ? a / b : 0);
  const l11 = Math.sqrt(Math.max(0, c[0]));
  const l21 = divide(c[3], l11);
  const l31 = divide(c[6], l11);
  const l22 = Math.sqrt(Math.max(0, c[4] - l21 * l21));
  const l32 = divide(c[7] - l31 * l21, l22);
  const l33 = Math.sqrt(Math.max(0, c[8] - l31 * l31 - l32 * l32));
  return [l11, 0, 0, l21, l22, 0, l31, l32, l33];
};
