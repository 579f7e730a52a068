import type { Vector3 } from "../algebra/matrix3.ts";
import { deltaE00 } from "../colour/delta-e00.ts";
import { deviations, type RepeatSet } from "./repeat-sets.ts";
import { chiSquareQuantile } from "./tails.ts";

/** How far photos of one and the same thing lie apart: standard deviations of one photo's result. */
export interface Spread {
  /** In L, a, b. */
  readonly lab: Vector3;
  /** All three together, as CIEDE2000. */
  readonly deltaE: number;
  /** 95 % interval of `deltaE`. */
  readonly interval: readonly [low: number, high: number];
  readonly degreesOfFreedom: number;
  /** Repeatability limit, CIEDE2000: what two photos of one thing differ by stays below it in 95 of 100 cases or more. */
  readonly limit: number;
  readonly photos: number;
  /** "leaf/face" of all that were photographed more than once. */
  readonly faces: readonly string[];
}

/**
 * Two results differ by less than this many standard deviations of one with 95 %: 1.96 times the square root of 2,
 * rounded as in ISO 5725-6:1994, 4.1 (clause from memory). It is so for a spread along one axis; the more evenly it lies over
 * three, the surer the limit, up to 99 %.
 */
export const limitFactor = 2.8;

/**
 * Fewer degrees of freedom than this are too few to go by: three faces three times give 6, and one photo may fail. At 5
 * the true spread may still be 2.5 times the one found (upper end of its 95 % interval).
 */
export const leastFreedom = 5;

/** Photos less the groups that hang together: parts and faces of one photo share its error and are not counted twice. */
const freedomOf = (sets: readonly RepeatSet[]): number => {
  const parent = new Map<string, string>();
  const root = (name: string): string => {
    const up = parent.get(name) ?? name;
    return up === name ? name : root(up);
  };
  let joined = 0;
  for (const { results } of sets)
    for (const { photo } of results) {
      const [one, other] = [root(results[0]!.photo), root(photo)];
      if (one === other) continue;
      parent.set(other, one);
      joined++;
    }
  return joined;
};

/**
 * Spread of photos of the same, pooled over sets. Of differences between two faces it is that of one of the two
 * (`ofDifferences`), so that the limit is of a difference either way. Null where nothing was measured twice.
 */
export const spreadOf = (sets: readonly RepeatSet[], ofDifferences: boolean): Spread | null => {
  const degreesOfFreedom = freedomOf(sets);
  if (degreesOfFreedom === 0) return null;
  const sums = [0, 0, 0, 0];
  let free = 0;
  for (const set of sets) {
    free += set.results.length - 1;
    for (const [L, a, b] of deviations(set)) {
      const visible = deltaE00(set.about, [set.about[0] + L, set.about[1] + a, set.about[2] + b]);
      [L, a, b, visible].forEach((value, i) => {
        sums[i]! += value * value;
      });
    }
  }
  const [L, a, b, deltaE] = sums.map((sum) => Math.sqrt(sum / free / (ofDifferences ? 2 : 1))) as [
    number,
    number,
    number,
    number,
  ];
  const end = (probability: number) =>
    deltaE * Math.sqrt(degreesOfFreedom / chiSquareQuantile(probability, degreesOfFreedom));
  return {
    lab: [L, a, b],
    deltaE,
    interval: [end(0.975), end(0.025)],
    degreesOfFreedom,
    limit: limitFactor * deltaE,
    photos: new Set(sets.flatMap(({ results }) => results.map(({ photo }) => photo))).size,
    faces: [...new Set(sets.flatMap(({ faces }) => faces))].sort(),
  };
};
