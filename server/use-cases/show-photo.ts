import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { leafOf, patternOf, photoOf } from "./delivery-parts.ts";

const previewPx = 1600;

/** Twice as fine as the face is measured, so that a joint can be laid to half a cell. */
const straightPxPerMm = 1;

/** A small upright copy of a photo as JPEG, without metadata. */
export const showPhoto = (site: Site, deliveryId: string, id: string): Promise<Buffer> => {
  const store = site.store.open(deliveryId);
  photoOf(store.read(), id);
  return site.darkroom.preview(store.photos.path(id), previewPx);
};

/** The original as it came: its name for people and where it lies. */
export const originalPhoto = (site: Site, deliveryId: string, id: string): { name: string; path: string } => {
  const store = site.store.open(deliveryId);
  return { name: photoOf(store.read(), id).name, path: store.photos.path(id) };
};

/** A face seen straight on, cut from a photo in which it was found or its corners were set, as JPEG without metadata. */
export const showStraight = (
  site: Site,
  deliveryId: string,
  id: string,
  leaf: string,
  face: string,
): Promise<Buffer> => {
  const store = site.store.open(deliveryId);
  const delivery = store.read();
  photoOf(delivery, id);
  const { widthMm, heightMm } = patternOf(delivery, leafOf(delivery, leaf).pattern);
  const corners = face === "A" || face === "B" ? site.measuring.measured(deliveryId).corners(id, { leaf, face }) : null;
  if (!corners)
    throw new Refusal(`Face ${face} of ${leaf} was not found in this photo: set its four corners first.`, 404);
  const box = { x: 0, y: 0, w: widthMm, h: heightMm };
  return site.darkroom.crop(store.photos.path(id), { corners, widthMm, heightMm, box, pxPerMm: straightPxPerMm });
};
