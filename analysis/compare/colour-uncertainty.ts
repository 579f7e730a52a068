import type { Matrix3 } from "../algebra/matrix3.ts";
import { deltaE00, deltaE00Slopes } from "../colour/delta-e00.ts";
import type { Lab65 } from "../colour/lab.ts";

/** Standard uncertainty in each of L, a, b of a colour that stands behind a chart: what the camera's matrix leaves over. */
const matrixFloor = 0.35;

/** Factor from a standard deviation in each of three directions to the radius that holds 95 %: chi with three degrees. */
const threeAxes95 = 2.796;

/**
 * 95 % uncertainty of a colour as a ΔE00: the radius that holds the true colour, from the mean variance over the three
 * axes of L, a, b, each weighed by how fast ΔE00 grows along it (JCGM 102:2011, joint regions; the ball is cautious).
 */
export const colourUncertainty95 = (lab: Lab65, covariance: Matrix3): number => {
  const near: Lab65 = [lab[0] + 0.5, lab[1] + 0.5, lab[2] + 0.5];
  const slopes = deltaE00Slopes(lab, near);
  const grown = deltaE00(lab, near) / 0.5;
  const norm = Math.hypot(...slopes) || 1;
  const weight = slopes.map((slope) => ((slope / norm) * grown) ** 2);
  const variance = [covariance[0], covariance[4], covariance[8]].map((v) => v + matrixFloor ** 2);
  const sum = variance.reduce((total, v, i) => total + v * (weight[i] ?? 0), 0);
  return threeAxes95 * Math.sqrt(sum / 3);
};
