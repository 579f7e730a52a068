import { apply3, diagonal3, type Matrix3, multiply3, transpose3, type Vector3 } from "../algebra/matrix3.ts";
import { reachOf, solveLowerAt } from "../algebra/sparse-cholesky.ts";
import { type Lab65, lab65Slopes, xyzToLab65 } from "../colour/lab.ts";
import { type Equations, piecesOf, type SeenPart, type View } from "./equations.ts";
import { placeTerms } from "./light-field.ts";
import { cameraLogs, cameraLogsMatrix } from "./log-channels.ts";
import { model } from "./model-constants.ts";
import { lightOn, unknownsOfLight } from "./photo-light.ts";
import type { ChannelSolution } from "./solve-channel.ts";
import { woodToXyz } from "./wood-spectra.ts";

/** Lightness, warmth and tint. */
export type Channels = readonly [ChannelSolution, ChannelSolution, ChannelSolution];

/** A part's colour as it follows from the light, and how it moves when the light does. */
export interface ReckonedPart {
  readonly part: SeenPart;
  readonly lab: Lab65;
  /** Its mean light as the typical camera sees it in daylight, 1 for white. */
  readonly camera: Vector3;
  /** Derivatives of L, a, b by an error of lightness, warmth and tint (logarithms) of the light. */
  readonly slopes: Matrix3;
  /** The unknowns of light that the part's mean rests on, and how much of each. */
  readonly light: readonly (readonly [unknown: number, factor: number])[];
  /** Share of each photo in the mean, by its number. */
  readonly photos: ReadonlyMap<number, number>;
}

/**
 * Mean of linear light over a part's cells, each piece of wood the mean over the photos that show it, light taken off, and brought
 * to XYZ. Cells the adjustment gave no weight count as little here.
 */
export const reckonPart = (part: SeenPart, equations: Equations, channels: Channels): ReckonedPart | null => {
  const { views, cellOf } = part;
  const count = views.length;
  const plain = views.map((view) => withoutLight(view, equations, channels));
  const weightOf = views.map(({ number }) => leastOf(channels.map(({ weights }) => weights[number]!)));
  const sums = [0, 0, 0];
  const terms = views.map(() => new Float64Array(placeTerms));
  let total = 0;
  for (let piece = 0; piece < cellOf.length; piece += count) {
    let sum = 0;
    let share = 0;
    for (let view = 0; view < count; view++) {
      const cell = cellOf[piece + view]!;
      if (cell < 0) continue;
      const weight = weightOf[view]![cell]!;
      sum += weight;
      share = Math.max(share, views[view]!.shares[cell]! * weight);
    }
    if (sum === 0) continue;
    total += share;
    for (let view = 0; view < count; view++) {
      const cell = cellOf[piece + view]!;
      if (cell < 0) continue;
      const weight = (share * weightOf[view]![cell]!) / sum;
      for (let k = 0; k < 3; k++) sums[k]! += weight * plain[view]![3 * cell + k]!;
      for (let k = 0; k < placeTerms; k++) terms[view]![k]! += weight * views[view]!.terms[placeTerms * cell + k]!;
    }
  }
  if (total === 0) return null;
  const camera: Vector3 = [sums[0]! / total, sums[1]! / total, sums[2]! / total];
  const xyz = apply3(woodToXyz, camera);
  const slopes = multiply3(lab65Slopes(xyz), multiply3(woodToXyz, multiply3(diagonal3(camera), cameraLogsMatrix)));
  const means = terms.map((of) => of.map((value) => value / total));
  const light = views.flatMap((view, i) => unknownsOfLight(view, equations, means[i]!));
  const photos = new Map(views.map(({ photo }, i) => [photo, means[i]![0]!]));
  return { part, lab: xyzToLab65(xyz), camera, slopes, light, photos };
};

/** The cells of a view as the typical camera sees them in daylight, three channels a cell. */
const withoutLight = (view: View, equations: Equations, channels: Channels): Float64Array => {
  const { terms, logs } = view;
  const fields = channels.map(({ estimate }) => lightOn(view, equations, estimate));
  const [lightness, warmth, tint] = logs.map((column, channel) =>
    column.map((log, cell) => {
      let left = log;
      for (let k = 0; k < placeTerms; k++) left -= fields[channel]![k]! * terms[placeTerms * cell + k]!;
      return left;
    }),
  ) as [Float64Array, Float64Array, Float64Array];
  const plain = new Float64Array(3 * lightness.length);
  for (let cell = 0; cell < lightness.length; cell++) {
    const [red, green, blue] = cameraLogs([lightness[cell]!, warmth[cell]!, tint[cell]!]);
    plain[3 * cell] = Math.exp(red);
    plain[3 * cell + 1] = Math.exp(green);
    plain[3 * cell + 2] = Math.exp(blue);
  }
  return plain;
};

const leastOf = ([first, ...others]: readonly Float64Array[]): Float64Array =>
  others.reduce((least, other) => least.map((value, i) => Math.min(value, other[i]!)), first!);

/** What a part's mean rests on alone: its look in each photo, and the noise of its cells (past this many it counts no more). */
const mostCells = 30;

const ownVariance = ({ photos, part }: ReckonedPart, channel: number): number => {
  const of = (["lightness", "warmth", "tint"] as const)[channel]!;
  return model.partInPhoto[of] ** 2 / photos.size + model.cellNoise[of] ** 2 / Math.min(mostCells, piecesOf(part));
};

/** Covariance in Lab of the errors of two parts, by their numbers; of one part with itself, its own. */
export type CovarianceBetween = (one: number, other: number) => Matrix3;

/** The unit of an error of light that makes a part's: each at the places it reaches, channel by channel. */
interface Rooted {
  readonly reach: Int32Array;
  readonly roots: readonly Float64Array[];
}

/**
 * How the errors of parts go together: each rests on the light of its photos, and what those photos share is an error
 * they share. One half of a solve a part; the covariance of two is the scalar product of what comes out.
 */
export const lightErrors = (parts: readonly ReckonedPart[], channels: Channels): CovarianceBetween => {
  const [{ factor, place }] = channels;
  const work = new Float64Array(place.length);
  const rooted = parts.map(({ light }): Rooted => {
    const placed = light.map(([unknown, value]) => [place[unknown]!, value] as const);
    const reach = reachOf(
      factor,
      placed.map(([at]) => at),
    );
    return { reach, roots: channels.map((channel) => solveLowerAt(channel.factor, placed, reach, work)) };
  });
  return (one, other) => {
    const [a, b] = [parts[one]!, parts[other]!];
    const [lightness, warmth, tint] = productsOf(rooted[one]!, rooted[other]!);
    const own = (channel: 0 | 1 | 2) => (one === other ? ownVariance(a, channel) : 0);
    const light = diagonal3([lightness + own(0), warmth + own(1), tint + own(2)]);
    return multiply3(multiply3(a.slopes, light), transpose3(b.slopes));
  };
};

/** Scalar products, channel by channel, over the places that both reach. */
const productsOf = (one: Rooted, other: Rooted): Vector3 => {
  const [[a, b, c], [d, e, f]] = [one.roots, other.roots] as [Float64Array[], Float64Array[]];
  let [x, y, z] = [0, 0, 0];
  let i = one.reach.length - 1;
  let j = other.reach.length - 1;
  while (i >= 0 && j >= 0) {
    const apart = one.reach[i]! - other.reach[j]!;
    if (apart === 0) {
      x += a![i]! * d![j]!;
      y += b![i]! * e![j]!;
      z += c![i]! * f![j]!;
    }
    if (apart >= 0) i--;
    if (apart <= 0) j--;
  }
  return [x, y, z];
};
