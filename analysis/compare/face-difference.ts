import { combine3, type Matrix3, transpose3 } from "../algebra/matrix3.ts";
import { deltaE00 } from "../colour/delta-e00.ts";
import { type Lab65, lab65ToXyz, xyzToLab65 } from "../colour/lab.ts";
import type { Adjustment, PartColour } from "../solve/light-adjustment.ts";
import { differenceCovariance, uncertainty95 } from "./difference-model.ts";
import { judge, probabilityWithin, standardOffsets, type Verdict } from "./verdict.ts";

/** A part, or all parts of a kind, of two faces compared. */
export interface PartDifference {
  /** Name of the part, else the kind. */
  readonly part: string;
  /** CIEDE2000. */
  readonly deltaE: number;
  /** Half-width of its 95 % interval. */
  readonly u95: number;
  /** Probability that it is within the tolerance. */
  readonly probability: number;
}

export interface FaceDifference {
  readonly parts: readonly PartDifference[];
  /** The part least likely to be within tolerance: it decides. Null where there is nothing to compare. */
  readonly worst: PartDifference | null;
  readonly verdict: Verdict;
}

export interface FaceName {
  readonly leaf: string;
  readonly face: string;
}

const nameOf = ({ leaf, face }: FaceName): string => `${leaf}/${face}`;

/** Parts by their places in the adjustment, with the share of each: they count as one colour. */
interface Blend {
  readonly lab: Lab65;
  readonly members: readonly (readonly [place: number, share: number])[];
}

/**
 * Makes the comparison of any two faces of an adjustment at one tolerance (CIEDE2000) and confidence. Parts are compared by
 * name; parts without a namesake by the mean of their kind. Faces that share no part, or that
 * nothing ties together, get no difference but a verdict that says so.
 */
export const faceComparison = (
  adjustment: Adjustment,
  tolerance: number,
  confidence = 0.95,
): ((one: FaceName, other: FaceName) => FaceDifference) => {
  const offsets = standardOffsets();
  const byFace = new Map<string, number[]>();
  adjustment.parts.forEach((part, place) => {
    const places = byFace.get(nameOf(part));
    if (places) places.push(place);
    else byFace.set(nameOf(part), [place]);
  });

  const compare = (part: string, one: Blend, other: Blend): PartDifference => {
    const light = differenceOf(adjustment, one, other);
    const covariance = differenceCovariance(one.lab, other.lab, light);
    return {
      part,
      deltaE: deltaE00(one.lab, other.lab),
      u95: uncertainty95(one.lab, other.lab, covariance),
      probability: probabilityWithin(one.lab, other.lab, covariance, tolerance, offsets),
    };
  };

  return (one, other) => {
    const places = byFace.get(nameOf(one)) ?? [];
    const others = byFace.get(nameOf(other)) ?? [];
    const pairs = pairParts(adjustment.parts, places, others);
    if (pairs.length === 0) return nothing("no-common-part");
    if (!tied(adjustment.parts[places[0]!]!, adjustment.parts[others[0]!]!)) return nothing("nothing-ties-them");
    const blend = (members: readonly number[]) => blendOf(adjustment.parts, members);
    const parts = pairs.map(({ part, one: a, other: b }) => compare(part, blend(a), blend(b)));
    const worst = parts.reduce((low, next) => (isWorse(next, low) ? next : low));
    return { parts, worst, verdict: judge(worst.probability, confidence) };
  };
};

const nothing = (why: "no-common-part" | "nothing-ties-them"): FaceDifference => ({
  parts: [],
  worst: null,
  verdict: { kind: "cannot-tell", why },
});

const isWorse = (one: PartDifference, other: PartDifference): boolean =>
  one.probability !== other.probability ? one.probability < other.probability : one.deltaE > other.deltaE;

const tied = (one: PartColour, other: PartColour): boolean =>
  one.component === other.component || (one.known && other.known);

/** Namesakes first; what is left over by kind. */
const pairParts = (parts: readonly PartColour[], places: readonly number[], others: readonly number[]) => {
  const named = places.flatMap((place) => {
    const { part } = parts[place]!;
    const other = others.find((at) => parts[at]!.part === part);
    return other === undefined ? [] : [{ part, one: [place], other: [other] }];
  });
  const left = places.filter((place) => !named.some(({ one }) => one[0] === place));
  const leftOther = others.filter((place) => !named.some(({ other }) => other[0] === place));
  const kinds = [...new Set(left.map((place) => parts[place]!.kind))];
  const alike = kinds.flatMap((kind) => {
    const ofKind = (places: readonly number[]) => places.filter((place) => parts[place]!.kind === kind);
    const other = ofKind(leftOther);
    return other.length === 0 ? [] : [{ part: kind as string, one: ofKind(left), other }];
  });
  return [...named, ...alike];
};

/** The colour of parts seen as one, by their areas. */
const blendOf = (parts: readonly PartColour[], places: readonly number[]): Blend => {
  const total = places.reduce((sum, place) => sum + parts[place]!.cells, 0);
  const members = places.map((place) => [place, parts[place]!.cells / total] as const);
  const [only] = places;
  if (places.length === 1 && only !== undefined) return { lab: parts[only]!.lab, members };
  const xyz = [0, 0, 0];
  for (const [place, share] of members)
    lab65ToXyz(parts[place]!.lab).forEach((value, k) => {
      xyz[k]! += share * value;
    });
  return { lab: xyzToLab65([xyz[0]!, xyz[1]!, xyz[2]!]), members };
};

/** Covariance of one blend less another, from the joint covariance of their members. */
const differenceOf = ({ between }: Adjustment, one: Blend, other: Blend): Matrix3 => {
  const members = [...one.members, ...other.members.map(([place, share]) => [place, -share] as const)];
  let sum: Matrix3 = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  members.forEach(([i, p], a) => {
    sum = combine3(sum, between(i, i), p * p);
    for (const [j, q] of members.slice(0, a)) {
      const shared = between(i, j);
      sum = combine3(combine3(sum, shared, p * q), transpose3(shared), p * q);
    }
  });
  return sum;
};
