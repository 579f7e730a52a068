import type { Lab65 } from "../colour/lab.ts";
import type { PartKind } from "../leaf-parts.ts";
import type { PhotoSample } from "../sample/photo-sample.ts";
import type { KnownReferences } from "../solve/known-references.ts";
import { adjust } from "../solve/light-adjustment.ts";

/** The colour of one part as one photo alone tells it. */
export interface RepeatReading {
  readonly photo: string;
  readonly leaf: string;
  readonly face: string;
  readonly part: string;
  readonly kind: PartKind;
  readonly lab: Lab65;
  /** How many cells it was measured on: its area, about. */
  readonly cells: number;
  /** Readings of one tie stand on the same reference and may be compared; of others only what one photo shows side by side. */
  readonly tie: string;
}

/** A face that stands alone with no reference tells no colour. */
const tellsColour = ({ faces, references }: PhotoSample): boolean => faces.length > 1 || references.length > 0;

/** The photos of a delivery that show a face which another of them shows too. */
export const repeatPhotos = (samples: readonly PhotoSample[]): PhotoSample[] => {
  const telling = samples.filter(tellsColour);
  const seen = new Map<string, number>();
  for (const { faces } of telling)
    for (const { leaf, face } of faces) seen.set(`${leaf}/${face}`, (seen.get(`${leaf}/${face}`) ?? 0) + 1);
  return telling.filter(({ faces }) => faces.some(({ leaf, face }) => (seen.get(`${leaf}/${face}`) ?? 0) > 1));
};

/**
 * Colours of faces that were photographed more than once, from each photo on its own: every photo's faces are taken for
 * other leaves' than those of the next, so that nothing draws the colours of one face together. What they then
 * differ by is what two leaves of one colour would. Empty where no face was photographed twice.
 */
export const readRepeats = (samples: readonly PhotoSample[], known: KnownReferences): RepeatReading[] => {
  const photos = repeatPhotos(samples);
  if (photos.length === 0) return [];
  const names = new Map<string, { photo: string; leaf: string; face: string }>();
  const apart = photos.map((sample) => ({
    ...sample,
    faces: sample.faces.map((seen) => {
      const name = JSON.stringify([sample.photo, seen.leaf, seen.face]);
      names.set(name, { photo: sample.photo, leaf: seen.leaf, face: seen.face });
      return { ...seen, leaf: name };
    }),
  }));
  return adjust(apart, known).parts.map(({ leaf, part, kind, lab, cells, component, known: tied }) => ({
    ...names.get(leaf)!,
    part,
    kind,
    lab,
    cells,
    tie: tied ? "known" : `component ${component}`,
  }));
};
