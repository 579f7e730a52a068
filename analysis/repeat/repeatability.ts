import type { PartKind } from "../leaf-parts.ts";
import { studyColour } from "./colour-gauge.ts";
import type { RepeatReading } from "./repeat-readings.ts";
import { type RepeatSet, setsByReference, setsSideBySide } from "./repeat-sets.ts";
import { leastFreedom, type Spread, spreadOf } from "./spread.ts";

/** Spread of one way to take photos: all parts together, and kind by kind. */
export interface WaySpread {
  readonly all: Spread;
  readonly kinds: readonly (Spread & { readonly kind: PartKind })[];
  /** Photos enough to go by. */
  readonly enough: boolean;
}

/** How repeatable photos are, in both ways in which two faces are compared; null where nothing was taken twice. */
export interface Repeatability {
  /** Each face on its own, its colour by the reference in the photo, with one camera. */
  readonly byReference: WaySpread | null;
  /** Two faces in one photo, by each other. */
  readonly sideBySide: WaySpread | null;
  /** What the cameras differ by over all faces, standard deviation as CIEDE2000; null where too few faces were taken with several. */
  readonly betweenCameras: number | null;
}

const wayOf = (sets: readonly RepeatSet[], ofDifferences: boolean): WaySpread | null => {
  const all = spreadOf(sets, ofDifferences);
  if (!all) return null;
  const kinds = [...new Set(sets.map(({ kind }) => kind))].sort().flatMap((kind) => {
    const spread = spreadOf(
      sets.filter((set) => set.kind === kind),
      ofDifferences,
    );
    return spread ? [{ kind, ...spread }] : [];
  });
  return { all, kinds, enough: all.degreesOfFreedom >= leastFreedom };
};

export const repeatabilityOf = (readings: readonly RepeatReading[]): Repeatability => {
  const cameras = new Map(readings.map(({ photo, camera }) => [photo, camera]));
  return {
    byReference: wayOf(setsByReference(readings), false),
    sideBySide: wayOf(setsSideBySide(readings), true),
    betweenCameras: studyColour(readings, (photo) => cameras.get(photo) ?? null)?.colour.reproduce ?? null,
  };
};
