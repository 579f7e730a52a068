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
import { type Lab65, lab65Slopes, xyzToLab65 } from "../colour/lab.ts";
import type { Equations, SeenPart } from "./equations.ts";
import { lightTerms } from "./light-field.ts";
import { cameraLogs, cameraLogsMatrix } from "./log-channels.ts";
import { model } from "./model-constants.ts";
import { type Channels, lightAt } from "./photo-light.ts";
import { woodToXyz } from "./wood-spectra.ts";

/** A part's colour as it follows from the light, and how it moves when the light does. */
export interface ReckonedPart {
  readonly part: SeenPart;
  readonly lab: Lab65;
  /** Its mean light as the typical camera sees it in daylight, 1 for white. */
  readonly camera: Vector3;
  /** Derivatives of L, a, b by an error of lightness, warmth and tint (logarithms) of the light. */
  readonly slopes: Matrix3;
  /** The unknowns of light that the part's mean rests on, and how much of each. */
  readonly light: ReadonlyMap<number, number>;
  /** Share of each photo in the mean, by its number. */
  readonly photos: ReadonlyMap<number, number>;
}

/**
 * Mean of linear light over a part's cells, each cell the mean over the photos that show it, light taken off, and brought to
 * XYZ. Cells the adjustment gave no weight count as little here.
 */
export const reckonPart = (part: SeenPart, equations: Equations, channels: Channels): ReckonedPart | null => {
  const { seen } = equations;
  const weightOf = (at: number) => Math.min(...channels.map(({ weights }) => weights[at]!));
  const sums = [0, 0, 0];
  const light = new Map<number, number>();
  const photos = new Map<number, number>();
  const addTo = (map: Map<number, number>, key: number, value: number) => map.set(key, (map.get(key) ?? 0) + value);
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
      const extra = { unknown: one.extra, factor: one.extraFactor };
      const factor = lightAt(equations, channels, one.photo, one.terms, extra);
      cameraLogs(one.log).forEach((log, k) => {
        sums[k]! += (weight * Math.exp(log)) / factor[k]!;
      });
      const first = equations.light[one.photo]!;
      for (let k = 0; k < lightTerms; k++) addTo(light, first + k, weight * one.terms[k]!);
      addTo(light, one.extra, weight * one.extraFactor);
      addTo(photos, one.photo, weight);
    });
  }
  if (total === 0) return null;
  for (const map of [light, photos]) for (const [key, value] of map) map.set(key, value / total);
  const camera: Vector3 = [sums[0]! / total, sums[1]! / total, sums[2]! / total];
  const xyz = apply3(woodToXyz, camera);
  const slopes = multiply3(lab65Slopes(xyz), multiply3(woodToXyz, multiply3(diagonal3(camera), cameraLogsMatrix)));
  return { part, lab: xyzToLab65(xyz), camera, slopes, light, photos };
};

/** What a part's mean rests on alone: its look in each photo, and the noise of its cells (past this many it counts no more). */
const mostCells = 30;

const ownVariance = ({ photos, part }: ReckonedPart, channel: number): number => {
  const of = (["lightness", "warmth", "tint"] as const)[channel]!;
  return model.partInPhoto[of] ** 2 / photos.size + model.cellNoise[of] ** 2 / Math.min(mostCells, part.cells.length);
};

/** Covariance in Lab of the errors of two parts, by their numbers; of one part with itself, its own. */
export type CovarianceBetween = (one: number, other: number) => Matrix3;

/** Covariance in Lab of each part's own error from the light and its cells. */
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

/**
 * How the errors of parts go together: each rests on the light of its photos, and what those photos share is an error
 * they share. One solve for each part that is asked about with another, kept while the function lives.
 */
export const lightErrors = (
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
    const [lightness, warmth, tint] = channels.map(({ place }, channel) => {
      let sum = 0;
      for (const [unknown, value] of b.light) sum += value * response[channel]![place[unknown]!]!;
      return sum;
    });
    return multiply3(multiply3(a.slopes, diagonal3([lightness!, warmth!, tint!])), transpose3(b.slopes));
  };
};
