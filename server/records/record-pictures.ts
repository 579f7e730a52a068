import type { Delivery } from "../contract/delivery.ts";
import type { Mark, Pattern } from "../contract/leaf.ts";
import type { Photo } from "../contract/photo.ts";
import type { CropRequest, FaceRef } from "../site.ts";
import type { RecordPicture } from "./record-schema.ts";

/** A picture to be made for a record; `copy` comes when it is made. */
export type WantedPicture = Omit<RecordPicture, "copy">;

type Corners = CropRequest["corners"];
type Box = CropRequest["box"];

interface Shot {
  readonly photo: string;
  readonly corners: Corners;
  readonly pxPerMm: number;
}

/** Longest side of a printed picture, px: at 56 mm wide it prints with some 400 dots to the inch. */
const longestPx = 900;
/** A close view is not scaled up beyond this, px/mm. */
const closestPxPerMm = 6;

const areaOf = (corners: Corners): number =>
  Math.abs(
    corners.reduce((sum, [x, y], i) => {
      const [nextX, nextY] = corners[(i + 1) % corners.length] ?? [x, y];
      return sum + x * nextY - nextX * y;
    }, 0) / 2,
  );

const photosOfFace = ({ photos }: Delivery, { leaf, face }: FaceRef): Photo[] =>
  photos.filter(({ shows }) => shows.some((shown) => shown.leaf === leaf && shown.face === face));

/** Photos in which the face is outlined, the one with most px to the mm first. Corners set by hand win. */
const shotsOf = (
  delivery: Delivery,
  ref: FaceRef,
  { widthMm, heightMm }: Pattern,
  corners: (photo: string, face: FaceRef) => Corners | null,
): Shot[] =>
  photosOfFace(delivery, ref)
    .flatMap(({ id, shows }) => {
      const byHand = shows.find(({ leaf, face }) => leaf === ref.leaf && face === ref.face)?.corners;
      const found = byHand ?? corners(id, ref);
      return found ? [{ photo: id, corners: found, pxPerMm: Math.sqrt(areaOf(found) / (widthMm * heightMm)) }] : [];
    })
    .sort((a, b) => b.pxPerMm - a.pxPerMm);

/** The box widened by a margin all round and to a least size, moved so that it stays on the face. */
export const widened = (box: Box, marginMm: number, leastMm: number, { widthMm, heightMm }: Pattern): Box => {
  const w = Math.min(widthMm, Math.max(leastMm, box.w + 2 * marginMm));
  const h = Math.min(heightMm, Math.max(leastMm, box.h + 2 * marginMm));
  const within = (start: number, length: number, whole: number): number =>
    Math.min(Math.max(0, start - length / 2), whole - length);
  return { x: within(box.x + box.w / 2, w, widthMm), y: within(box.y + box.h / 2, h, heightMm), w, h };
};

const cut = (
  name: string,
  view: RecordPicture["view"],
  ref: FaceRef,
  mark: Mark | null,
  shot: Shot,
  box: Box,
): WantedPicture => ({
  name,
  view,
  leaf: ref.leaf,
  face: ref.face,
  mark: mark?.id ?? null,
  photo: shot.photo,
  corners: shot.corners as RecordPicture["corners"],
  box,
  pxPerMm: Math.min(closestPxPerMm, longestPx / Math.max(box.w, box.h)),
  photoPxPerMm: shot.pxPerMm,
});

const asTaken = (name: string, photo: string, leaf: string | null, mark: Mark | null): WantedPicture => ({
  name,
  view: "as-taken",
  leaf,
  face: null,
  mark: mark?.id ?? null,
  photo,
  corners: null,
  box: null,
  pxPerMm: null,
  photoPxPerMm: null,
});

/** The usual order of evidence: whole face, the mark with what is round it, close by, and the photo itself. */
const picturesOfLeaf = (
  delivery: Delivery,
  code: string,
  corners: (photo: string, face: FaceRef) => Corners | null,
): WantedPicture[] => {
  const leaf = delivery.leaves.find((candidate) => candidate.code === code);
  const pattern = delivery.patterns.find(({ id }) => id === leaf?.pattern);
  if (!pattern) return [];
  const whole = { x: 0, y: 0, w: pattern.widthMm, h: pattern.heightMm };
  const pictures: WantedPicture[] = [];
  for (const face of ["A", "B"] as const) {
    const ref = { leaf: code, face };
    const [shot] = shotsOf(delivery, ref, pattern, corners);
    if (shot) pictures.push(cut(`${code}-${face}`, "whole", ref, null, shot, whole));
    else
      for (const { id } of photosOfFace(delivery, ref).slice(0, 1))
        pictures.push(asTaken(`${code}-${face}`, id, code, null));
  }
  const marks = delivery.marks.filter((mark) => mark.leaf === code && !mark.withdrawn);
  for (const [index, mark] of marks.entries()) {
    const ref = { leaf: code, face: mark.face };
    const name = `${code}-mark-${index + 1}`;
    const shots = shotsOf(delivery, ref, pattern, corners);
    const shot = shots.find(({ photo }) => photo === mark.photo) ?? shots[0];
    if (shot) {
      pictures.push(cut(`${name}-around`, "around", ref, mark, shot, widened(mark.box, 150, 500, pattern)));
      pictures.push(cut(`${name}-close`, "close", ref, mark, shot, widened(mark.box, 25, 100, pattern)));
    }
    if (mark.photo !== null && mark.photo !== shot?.photo)
      pictures.push(asTaken(`${name}-photo`, mark.photo, code, mark));
  }
  const usedForMarks = new Set(marks.map(({ photo }) => photo));
  const beside = delivery.photos.filter(
    ({ id, kind, shows }) =>
      (kind === "label" || kind === "wrapping" || kind === "edge" || kind === "detail") &&
      !usedForMarks.has(id) &&
      shows.some((shown) => shown.leaf === code),
  );
  return [...pictures, ...beside.map(({ id, kind }, i) => asTaken(`${code}-${kind}-${i + 1}`, id, code, null))];
};

/** Photos that tell of the load and the store as a whole: the signed note, the stack, the wrapping. */
const picturesOfDelivery = ({ photos }: Delivery): WantedPicture[] =>
  photos
    .filter(({ kind, shows }) => kind === "note" || kind === "stack" || (kind === "wrapping" && shows.length === 0))
    .map(({ id, kind }, index) => asTaken(`delivery-${kind}-${index + 1}`, id, null, null));

/**
 * Which pictures a record of some leaves shows and from which photo each is cut. `corners` gives the outline of a face
 * in a measured photo in px, or null.
 */
export const wantedPictures = (
  delivery: Delivery,
  leaves: readonly string[],
  corners: (photo: string, face: FaceRef) => Corners | null,
): WantedPicture[] => [
  ...leaves.flatMap((leaf) => picturesOfLeaf(delivery, leaf, corners)),
  ...picturesOfDelivery(delivery),
];

/** The request for a picture that is cut from an outlined face; null for one shown as taken. */
export const cropOf = ({ corners, box, pxPerMm }: WantedPicture, pattern: Pattern): CropRequest | null =>
  corners && box && pxPerMm !== null
    ? { corners, widthMm: pattern.widthMm, heightMm: pattern.heightMm, box, pxPerMm }
    : null;
