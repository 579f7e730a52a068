import type { Vector3 } from "../algebra/matrix3.ts";
import type { Lab65 } from "../colour/lab.ts";
import type { PartKind } from "../leaf-parts.ts";
import type { RepeatReading } from "./repeat-readings.ts";

/** One thing measured in several photos: the colour of a part, or the difference of two parts, in L, a, b. */
export interface RepeatSet {
  readonly kind: PartKind;
  /** The faces it is of, "leaf/face". */
  readonly faces: readonly string[];
  /** The colour about which it is judged how much a deviation shows. */
  readonly about: Lab65;
  readonly results: readonly { readonly photo: string; readonly value: Vector3 }[];
}

const faceOf = ({ leaf, face }: RepeatReading): string => `${leaf}/${face}`;

const groupBy = <T>(values: readonly T[], keyOf: (value: T) => string): T[][] => {
  const groups = new Map<string, T[]>();
  for (const value of values) {
    const group = groups.get(keyOf(value));
    if (group) group.push(value);
    else groups.set(keyOf(value), [value]);
  }
  return [...groups.values()];
};

const meanOf = (values: readonly Vector3[]): Vector3 => {
  const mean = (axis: 0 | 1 | 2) => values.reduce((sum, value) => sum + value[axis], 0) / values.length;
  return [mean(0), mean(1), mean(2)];
};

/** Parts of faces in photos of one camera with a reference, two or more that hang together. */
export const setsByReference = (readings: readonly RepeatReading[]): RepeatSet[] =>
  groupBy(
    readings.filter(({ apart, referenced }) => apart && referenced),
    (one) => JSON.stringify([faceOf(one), one.part, one.camera, one.turn, one.tie]),
  )
    .filter((group) => group.length > 1)
    .map((group) => ({
      kind: group[0]!.kind,
      faces: [faceOf(group[0]!)],
      about: meanOf(group.map(({ lab }) => lab)),
      results: group.map(({ photo, lab }) => ({ photo, value: lab })),
    }));

/** Differences of two faces that stand side by side, part by part, in two photos or more that show both. */
export const setsSideBySide = (readings: readonly RepeatReading[]): RepeatSet[] => {
  const pairs = groupBy(readings, ({ photo, part, turn }) => JSON.stringify([photo, part, turn])).flatMap((group) => {
    const faces = group.toSorted((one, other) => (faceOf(one) < faceOf(other) ? -1 : 1));
    return faces.flatMap((one, i) =>
      faces.slice(i + 1).flatMap((other) => (one.apart || other.apart ? [{ one, other }] : [])),
    );
  });
  return groupBy(pairs, ({ one, other }) => JSON.stringify([faceOf(one), faceOf(other), one.part, one.turn]))
    .filter((group) => group.length > 1)
    .map((group) => ({
      kind: group[0]!.one.kind,
      faces: [faceOf(group[0]!.one), faceOf(group[0]!.other)],
      about: meanOf(group.flatMap(({ one, other }) => [one.lab, other.lab])),
      results: group.map(({ one, other }) => ({
        photo: one.photo,
        value: [one.lab[0] - other.lab[0], one.lab[1] - other.lab[1], one.lab[2] - other.lab[2]],
      })),
    }));
};

/** Deviations of each result from the mean of its set, in L, a, b. */
export const deviations = ({ results }: RepeatSet): Vector3[] => {
  const mean = meanOf(results.map(({ value }) => value));
  return results.map(({ value }) => [value[0] - mean[0], value[1] - mean[1], value[2] - mean[2]]);
};
