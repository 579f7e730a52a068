import type { Lab65 } from "../colour/lab.ts";
import type { PartKind } from "../leaf-parts.ts";
import type { PhotoSample } from "../sample/photo-sample.ts";
import type { KnownReferences } from "../solve/known-references.ts";
import { type Adjustment, adjust } from "../solve/light-adjustment.ts";

/** The colour of one part in one photo. */
export interface RepeatReading {
  readonly photo: string;
  /** Of one camera and one encoding, as the sample names it. */
  readonly camera: string;
  readonly leaf: string;
  readonly face: string;
  readonly part: string;
  readonly kind: PartKind;
  readonly lab: Lab65;
  /** How many cells it was measured on: its area, about. */
  readonly cells: number;
  /** Told by this photo, as if no other showed the face; else the face only helped to tell others, its colour is from all its photos. */
  readonly apart: boolean;
  /** A card, chart or grey card is in the photo. */
  readonly referenced: boolean;
  /** Which faces were told apart together; only readings of one turn may be compared. */
  readonly turn: number;
  /** Readings of one tie hang together; of others only what one photo shows side by side may be compared. */
  readonly tie: string;
}

/**
 * So many turns at most, with as many faces told apart in each: the more turns, the more of the other faces are left to tie
 * line-ups together as they do in earnest, and the longer it takes. With four, three quarters are left.
 */
const mostTurns = 4;

const nameOf = ({ leaf, face }: { readonly leaf: string; readonly face: string }): string => `${leaf}/${face}`;

/** A face that stands alone with no reference tells no colour. */
const tellsColour = ({ faces, references }: PhotoSample): boolean => faces.length > 1 || references.length > 0;

/** Faces that more than one of the photos shows, in the order of their names. */
const repeatedFaces = (photos: readonly PhotoSample[]): string[] => {
  const seen = new Map<string, number>();
  for (const face of photos.flatMap(({ faces }) => faces)) seen.set(nameOf(face), (seen.get(nameOf(face)) ?? 0) + 1);
  return [...seen].flatMap(([name, times]) => (times > 1 ? [name] : [])).sort();
};

/** The photos of a delivery that show a face which another of them shows too. */
export const repeatPhotos = (samples: readonly PhotoSample[]): PhotoSample[] => {
  const telling = samples.filter(tellsColour);
  const repeated = new Set(repeatedFaces(telling));
  return telling.filter(({ faces }) => faces.some((face) => repeated.has(nameOf(face))));
};

/**
 * Colours of faces that were photographed more than once, photo by photo. Some of these faces at a time are taken for
 * another leaf's in every photo, so that nothing draws their colours together; the others tie the photos as they do when
 * a delivery is solved. What the readings of a face then differ by is what leaves of one colour would. Empty where no face was
 * photographed twice.
 */
export const readRepeats = (samples: readonly PhotoSample[], known: KnownReferences): RepeatReading[] => {
  const photos = repeatPhotos(samples);
  const repeated = repeatedFaces(photos);
  const turns = Math.min(mostTurns, repeated.length);
  return Array.from({ length: turns }, (_, turn) => {
    const apart = new Set(repeated.filter((__, i) => i % turns === turn));
    return readTurn(photos, apart, turn, known);
  }).flat();
};

const readTurn = (
  photos: readonly PhotoSample[],
  apart: ReadonlySet<string>,
  turn: number,
  known: KnownReferences,
): RepeatReading[] => {
  const leafIn = (photo: string, face: { readonly leaf: string; readonly face: string }) =>
    apart.has(nameOf(face)) ? JSON.stringify([face.leaf, photo]) : face.leaf;
  const adjustment = adjust(
    photos.map((sample) => ({
      ...sample,
      faces: sample.faces.map((face) => ({ ...face, leaf: leafIn(sample.photo, face) })),
    })),
    known,
  );
  const parts = new Map<string, Adjustment["parts"][number][]>();
  for (const one of adjustment.parts) parts.set(nameOf(one), [...(parts.get(nameOf(one)) ?? []), one]);
  return photos.flatMap(({ photo, camera, faces, references }) =>
    faces.flatMap((seen) =>
      (parts.get(nameOf({ ...seen, leaf: leafIn(photo, seen) })) ?? []).map((one) => ({
        photo,
        camera,
        leaf: seen.leaf,
        face: seen.face,
        part: one.part,
        kind: one.kind,
        lab: one.lab,
        cells: one.cells,
        apart: apart.has(nameOf(seen)),
        referenced: references.length > 0,
        turn,
        tie: tieOf(adjustment, one),
      })),
    ),
  );
};

/** What a part hangs on: true colours, else the photos of its component, named by the first of them. */
const tieOf = ({ components }: Adjustment, { component, known }: Adjustment["parts"][number]): string =>
  known ? "known" : `with ${components[component]?.photos.toSorted()[0]}`;
