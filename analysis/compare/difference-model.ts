import { combine3, diagonal3, identity3, type Matrix3, propagate3, type Vector3 } from "../algebra/matrix3.ts";
import { deltaE00, deltaE00Slopes } from "../colour/delta-e00.ts";
import type { Lab65 } from "../colour/lab.ts";

/** What a difference is off beyond the light, each with its reason. */
const differenceModel = {
  /** Standard uncertainty in each of L, a, b that no second photo takes away: rounding of JPEG colour, repeat shots. */
  floor: 0.1,
  /** Share of a difference that is lost because a wood's spectrum is not quite of the family of woods. */
  scale: 0.02,
  /** The same for a colour itself: standard uncertainty in each of L, a, b. */
  matrix: 0.25,
} as const;

const difference = (one: Lab65, other: Lab65): Vector3 => [other[0] - one[0], other[1] - one[1], other[2] - one[2]];

/** Covariance of a difference in L, a, b: that of the light, the floor, and an error of scale along the difference itself. */
export const differenceCovariance = (one: Lab65, other: Lab65, light: Matrix3): Matrix3 => {
  const [x, y, z] = difference(one, other);
  const along: Matrix3 = [x * x, x * y, x * z, y * x, y * y, y * z, z * x, z * y, z * z];
  const floor = differenceModel.floor ** 2;
  return combine3(combine3(light, identity3, floor), along, differenceModel.scale ** 2);
};

/** CIEDE2000 that one unit of L, of a, of b makes at a colour. */
const perUnit = (lab: Lab65): Vector3 => {
  const [L, a, b] = lab;
  const step = 0.5;
  return [
    deltaE00(lab, [L + step, a, b]) / step,
    deltaE00(lab, [L, a + step, b]) / step,
    deltaE00(lab, [L, a, b + step]) / step,
  ];
};

/**
 * Half-width of the 95 % interval of a CIEDE2000 difference, to first order (JCGM 100:2008, 5.1.2 and 6.2), the same
 * whichever colour comes first. Where two colours are all but equal the difference has no slope; there the widest of
 * the three axes stands for it.
 */
export const uncertainty95 = (one: Lab65, other: Lab65, c: Matrix3): number => {
  if (deltaE00(one, other) < 0.05) {
    const scale = perUnit(one);
    return 1.96 * Math.max(...scale.map((unit, axis) => unit * Math.sqrt(c[4 * axis]!)));
  }
  const forth = deltaE00Slopes(one, other);
  const back = deltaE00Slopes(other, one);
  const [x, y, z] = [(forth[0] - back[0]) / 2, (forth[1] - back[1]) / 2, (forth[2] - back[2]) / 2] as const;
  const variance =
    x * (c[0] * x + c[1] * y + c[2] * z) + y * (c[3] * x + c[4] * y + c[5] * z) + z * (c[6] * x + c[7] * y + c[8] * z);
  return 1.96 * Math.sqrt(Math.max(0, variance));
};

/**
 * Radius about a colour, in CIEDE2000, that holds the true one with 95 %. The square of the distance is a sum of squares whose
 * weights are the variances along the ellipsoid's axes; it is taken for a chi-squared with as many degrees of freedom as the
 * axes amount to. Without a known reference it is wide, as it must be.
 * Sources: Satterthwaite 1946 for the degrees of freedom, Wilson and Hilferty 1931 for the quantile (both from memory).
 */
export const colourUncertainty95 = ({
  lab,
  covariance,
}: {
  readonly lab: Lab65;
  readonly covariance: Matrix3;
}): number => {
  const toDeltaE = diagonal3(perUnit(lab));
  const c = propagate3(toDeltaE, combine3(covariance, identity3, differenceModel.matrix ** 2));
  const sum = c[0] + c[4] + c[8];
  const squares = c.reduce((total, value) => total + value * value, 0);
  const freedom = sum ** 2 / squares;
  const ninth = 2 / (9 * freedom);
  return Math.sqrt((squares / sum) * freedom * (1 - ninth + 1.6449 * Math.sqrt(ninth)) ** 3);
};
