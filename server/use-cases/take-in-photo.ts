import type { Body, Reply } from "../contract/calls.ts";
import type { Photo } from "../contract/photo.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

/** A file that came in: where it lies for now, its length, and the SHA-256 of what arrived. */
export interface Arrived {
  readonly path: string;
  readonly bytes: number;
  readonly sha256: string;
}

const names = (shows: Photo["shows"]): string => shows.map(({ leaf, face }) => `${leaf} face ${face}`).join(", ");

/**
 * Faces a photo that is known already is now said to show as well. One photo may be evidence for several leaves, but a
 * photo to be measured shows what it was filed under: that is refused, so that no face is measured as another.
 */
const notShownBy = (photo: Photo, about: Body<"uploadPhoto">): Photo["shows"] => {
  const further = about.shows.filter(
    ({ leaf, face }) => !photo.shows.some((shown) => shown.leaf === leaf && shown.face === face),
  );
  const measured = [photo.kind, about.kind].some((kind) => kind === "single" || kind === "line-up");
  if (further.length > 0 && measured)
    throw new Refusal(`This very photo is filed under ${names(photo.shows)} already. Take one of ${names(further)}.`);
  return further;
};

/**
 * Takes a photo in: what arrived must have the hash that was sent with it, and be a photo. The file is on disk before the journal
 * names it. The same bytes a second time are the same photo. The file at `path` is moved or left to the caller.
 */
export const takeInPhoto = async (
  site: Site,
  deliveryId: string,
  about: Body<"uploadPhoto">,
  file: Arrived,
): Promise<Reply<"uploadPhoto">> => {
  const store = site.store.open(deliveryId);
  const { sha256: id, by, ...filed } = about;
  if (file.sha256 !== id) throw new Refusal("The photo arrived with other bytes than were sent: send it again.", 422);
  for (const { leaf } of about.shows) leafOf(store.read(), leaf);
  const state = () => site.measuring.measured(deliveryId).state(id);
  const there = store.read().photos.find((photo) => photo.id === id);
  const known = there !== undefined;
  if (there && store.photos.has(id)) {
    const further = notShownBy(there, about);
    if (further.length > 0)
      await store.change(by, `Photo ${there.name}, for ${names(further)} too`, (delivery) => {
        delivery.photos.find((photo) => photo.id === id)?.shows.push(...further);
      });
    return { id, known: true, state: state() };
  }

  const examined = await site.darkroom.examine(file.path);
  if (examined.kind === "refused") throw new Refusal(examined.why, examined.status);
  const { width, height, takenAt, camera, flags } = examined;
  await store.photos.keep(file.path, id);
  await store.change(by, `Photo ${filed.name}`, (delivery) => {
    if (delivery.photos.some((photo) => photo.id === id)) return;
    for (const { leaf } of filed.shows) leafOf(delivery, leaf);
    const receivedAt = site.now();
    const shot = { takenAt, width, height, camera, flags };
    delivery.photos.push({ id, ...filed, ...shot, receivedAt, bytes: file.bytes, by: by.name });
  });
  site.measuring.wake(deliveryId);
  return { id, known, state: state() };
};
