import type { Delivery } from "../contract/delivery.ts";
import type { FaceSide } from "../contract/ids.ts";
import type { Leaf } from "../contract/leaf.ts";
import type { Photo } from "../contract/photo.ts";

/** Photos that show a whole face, so that its colour can be read. */
export const wholeFace = (photos: readonly Photo[], leaf: string, face: FaceSide): Photo[] =>
  photos.filter(
    ({ kind, shows }) =>
      (kind === "single" || kind === "line-up") && shows.some((shown) => shown.leaf === leaf && shown.face === face),
  );

const has = (photos: readonly Photo[], kind: Photo["kind"], leaf: string): boolean =>
  photos.some((photo) => photo.kind === kind && photo.shows.some((shown) => shown.leaf === leaf));

/**
 * The views of a leaf that are still missing, in the order in which they can be taken. Wrapping comes first, since it cannot
 * be taken later; one close view of every mark comes last. Order of evidence: common practice, no source.
 */
export const missingViews = (leaf: Leaf, delivery: Pick<Delivery, "photos" | "marks">): string[] => {
  const { photos } = delivery;
  const marks = delivery.marks.filter((mark) => mark.leaf === leaf.code && !mark.withdrawn);
  const carried = marks.some(
    ({ party, kind }) => party === "carrier" || kind === "crushed-corner" || kind === "edge-chip",
  );
  const views = [
    leaf.unwrappedAt === null && !has(photos, "wrapping", leaf.code) && "the leaf in its wrapping",
    carried && !has(photos, "wrapping", leaf.code) && "the wrapping at the damaged place",
    !has(photos, "label", leaf.code) && "the label",
    wholeFace(photos, leaf.code, "A").length === 0 && "face A, whole",
    wholeFace(photos, leaf.code, "B").length === 0 && "face B, whole",
    !has(photos, "edge", leaf.code) && "the closing edge",
  ].filter((view) => view !== false);
  const close = marks
    .filter(({ photo }) => photo === null || !photos.some(({ id, kind }) => id === photo && kind === "detail"))
    .filter(
      ({ face }) =>
        !photos.some(
          ({ kind, shows }) => kind === "detail" && shows.some((s) => s.leaf === leaf.code && s.face === face),
        ),
    )
    .map(({ kind, face }) => `a close view of the ${kind.replace("-", " ")} on face ${face}`);
  return [...views, ...close];
};
