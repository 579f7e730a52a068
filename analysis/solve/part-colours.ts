import { solveFactored } from "../algebra/envelope-cholesky.ts";
import { entryOf, inverseInEnvelope } from "../algebra/envelope-inverse.ts";
import {
  apply3,
  diagonal3,
  type Matrix3,
  multiply3,
  propagate3,
  transpose3,
  type Vector3,
} from "../algebra/matrix3.ts";
import { srgbToXyz } from "../colour/encoding.ts";
import { type Lab65, lab65Slopes, xyzToLab65 } from "../colour/lab.ts";
import type { Equations, SeenPart } from "./equations.ts";
import { lightTerms } from "./light-field.ts";
import { cameraLogs, cameraLogsMatrix } from "./log-channels.ts";
import { model } from "./model-constants.ts";
import { type Channels, lightAt } from "./photo-light.ts";

/** A part's colour as it follows from the light, and how it moves when the light does. */
export interface ReckonedPart {
  readonly part: SeenPart;
  readonly lab: Lab65;
  readonly xyz: Vector3;
  /** Derivatives of L, a, b by an error of lightness and of the two colours (logarithms) of the light. */
  readonly slopes: Matrix3;
  /** The unknowns of light that the part's mean rests on, and how much of each. */
  readonly light: ReadonlyMap<number, number>;
  readonly photos: number;
}

/**
 * Mean of linear light over a part's cells, each cell the mean over the photos that show it, light taken off and brought
 * to XYZ by the photo's matrix. Cells the adjustment gave no weight count as little here.
 */
export const reckonPart = (
  part: SeenPart,
  equations: Equations,
  channels: Channels,
  matrixOf: readonly Matrix3[],
): ReckonedPart | null => {
  const { seen } = equations;
  const weightOf = (at: number) => Math.min(...channels.map(({ weights }) => weights[at]!));
  const camera = [0, 0, 0];
  const xyz = [0, 0, 0];
  const light = new Map<number, number>();
  const photos = new Set<number>();
  let total = 0;
  for (const places of part.cells) {
    const weights = places.map(weightOf);
    const sum = weights.reduce((a, b) => a + b, 0);
    if (sum === 0) continue;
    const cellWeight = Math.max(...places.map((at, i) => seen[at]!.share * weights[i]!));
    total += cellWeight;
    places.forEach((at, i) => {
      const one = seen[at]!;
      const weight = (cellWeight * weights[i]!) / sum;
      const factor = lightAt(equations, channels, one.photo, one.terms, {
        unknown: one.extra,
        factor: one.extraFactor,
      });
      const logs = cameraLogs(one.log);
      const own: Vector3 = [
        Math.exp(logs[0]) / factor[0],
        Math.exp(logs[1]) / factor[1],
        Math.exp(logs[2]) / factor[2],
      ];
      const true3 = apply3(srgbToXyz, apply3(matrixOf[one.photo]!, own));
      for (let k = 0; k < 3; k++) {
        camera[k]! += weight * own[k]!;
        xyz[k]! += weight * true3[k]!;
      }
      const first = equations.light[one.photo]!;
      const add = (unknown: number, value: number) => light.set(unknown, (light.get(unknown) ?? 0) + weight * value);
      for (let k = 0; k < lightTerms; k++) add(first + k, one.terms[k]!);
      add(one.extra, one.extraFactor);
      photos.add(one.photo);
    });
  }
  if (total === 0) return null;
  const mean: Vector3 = [camera[0]! / total, camera[1]! / total, camera[2]! / total];
  const colour: Vector3 = [xyz[0]! / total, xyz[1]! / total, xyz[2]! / total];
  for (const [unknown, value] of light) light.set(unknown, value / total);
  const matrix = matrixOf[[...photos][0]!]!;
  const slopes = multiply3(
    lab65Slopes(colour),
    multiply3(multiply3(srgbToXyz, matrix), multiply3(diagonal3(mean), cameraLogsMatrix)),
  );
  return { part, lab: xyzToLab65(colour), xyz: colour, slopes, light, photos: photos.size };
};

/** What a part's mean rests on alone: its look in each photo, and the noise of its cells (past this many it counts no more). */
const mostCells = 30;

const ownVariance = ({ photos, part }: ReckonedPart, channel: number): number => {
  const of = channel === 0 ? "lightness" : "colour";
  return model.partInPhoto[of] ** 2 / photos + model.cellNoise[of] ** 2 / Math.min(mostCells, part.cells.length);
};

/** Covariance in Lab of each part's own error. */
export const ownCovariances = (parts: readonly ReckonedPart[], channels: Channels): Matrix3[] => {
  const variances = channels.map(({ factor, place }, channel) => {
    const inverse = inverseInEnvelope(factor);
    return parts.map((part) => {
      let sum = ownVariance(part, channel);
      for (const [one, value] of part.light)
        for (const [other, otherValue] of part.light)
          sum += value * otherValue * entryOf(inverse, place[one]!, place[other]!);
      return sum;
    });
  });
  return parts.map(({ slopes }, i) =>
    propagate3(slopes, diagonal3([variances[0]![i]!, variances[1]![i]!, variances[2]![i]!])),
  );
};

/** Covariance in Lab of the errors of two parts, by their numbers; of one part with itself, its own. */
export type CovarianceBetween = (one: number, other: number) => Matrix3;

/**
 * How the errors of parts go together: each rests on the light of its photos, and what those photos share is an error
 * they share. One solve for each part that is asked about with another, kept while the function lives.
 */
export const covarianceBetween = (
  parts: readonly ReckonedPart[],
  channels: Channels,
  own: readonly Matrix3[],
): CovarianceBetween => {
  const kept = new Map<number, readonly Float64Array[]>();
  const responses = (number: number): readonly Float64Array[] => {
    const there = kept.get(number);
    if (there) return there;
    const made = channels.map(({ factor, place }) => {
      const right = new Float64Array(place.length);
      for (const [unknown, value] of parts[number]!.light) right[place[unknown]!] = value;
      return solveFactored(factor, right);
    });
    kept.set(number, made);
    return made;
  };
  return (one, other) => {
    if (one === other) return own[one]!;
    const [a, b] = [parts[one]!, parts[other]!];
    const response = responses(one);
    const [lightness, redGreen, blueGreen] = channels.map(({ place }, channel) => {
      let sum = 0;
      for (const [unknown, value] of b.light) sum += value * response[channel]![place[unknown]!]!;
      return sum;
    });
    return multiply3(multiply3(a.slopes, diagonal3([lightness!, redGreen!, blueGreen!])), transpose3(b.slopes));
  };
};
