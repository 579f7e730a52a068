import { combine3, diagonal3, type Matrix3, type Vector3 } from "../algebra/matrix3.ts";
import { deltaE00, deltaE00Slopes } from "../colour/delta-e00.ts";
import type { Lab65 } from "../colour/lab.ts";

/** What a difference is off beyond the light, each with its reason. */
export const differenceModel = {
  /** Standard uncertainty in each of L, a, b that no second photo takes away: rounding of JPEG colour, repeat shots. */
  floor: 0.1,
  /** Share of a difference that level and camera matrix may make too great or too small. */
  scale: 0.05,
} as const;

const difference = (one: Lab65, other: Lab65): Vector3 => [other[0] - one[0], other[1] - one[1], other[2] - one[2]];

/** Covariance of a difference in L, a, b: that of the light, the floor, and an error of scale along the difference itself. */
export const differenceCovariance = (one: Lab65, other: Lab65, light: Matrix3): Matrix3 => {
  const [x, y, z] = difference(one, other);
  const along: Matrix3 = [x * x, x * y, x * z, y * x, y * y, y * z, z * x, z * y, z * z];
  const floor = differenceModel.floor ** 2;
  return combine3(combine3(light, diagonal3([1, 1, 1]), floor), along, differenceModel.scale ** 2);
};

/**
 * Half-width of the 95 % interval of a CIEDE2000 difference, to first order (JCGM 100:2008, 5.1.2 and 6.2). Where two
 * colours are all but equal the difference has no slope; there the widest of the three axes stands for it.
 */
export const uncertainty95 = (one: Lab65, other: Lab65, covariance: Matrix3): number => {
  const c = covariance;
  const [x, y, z] = deltaE00(one, other) < 0.05 ? widestAxis(one, c) : deltaE00Slopes(one, other);
  const variance =
    x * (c[0] * x + c[1] * y + c[2] * z) + y * (c[3] * x + c[4] * y + c[5] * z) + z * (c[6] * x + c[7] * y + c[8] * z);
  return 1.96 * Math.sqrt(Math.max(0, variance));
};

const widestAxis = (one: Lab65, c: Matrix3): Vector3 => {
  const [x, y, z] = deltaE00Slopes(one, [one[0] + 0.5, one[1] + 0.5, one[2] + 0.5]);
  const axes: readonly Vector3[] = [
    [x, 0, 0],
    [0, y, 0],
    [0, 0, z],
  ];
  const width = ([l, a, b]: Vector3) => l * l * c[0] + a * a * c[4] + b * b * c[8];
  return axes.reduce((widest, axis) => (width(axis) > width(widest) ? axis : widest));
};
