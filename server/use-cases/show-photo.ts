import type { Site } from "../site.ts";
import { photoOf } from "./delivery-parts.ts";

const previewPx = 1600;

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
