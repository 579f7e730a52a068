import type { Body, Reply, Signed } from "../contract/calls.ts";
import { mostShown, type Photo } from "../contract/photo.ts";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";
import { photoName } from "../rules/photo-name.ts";
import type { Arrived, DeliveryStore, Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

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
  if (photo.shows.length + further.length > mostShown)
    throw new Refusal(`One photo is kept for ${mostShown} faces at most. Take another of ${names(further)}.`, 422);
  return further;
};

/** Refuses a photo of so many bytes where the delivery holds as many, or as much, as it may. */
export const roomForPhoto = (store: DeliveryStore, bytes: number): void => {
  const { photos } = store.read();
  const held = photos.reduce((sum, photo) => sum + photo.bytes, 0);
  if (photos.length >= limits.delivery.photos || held + bytes > limits.delivery.photoBytes)
    throw new Refusal(
      `This delivery holds ${photos.length} photos, as many as one may. Begin another delivery for further leaves.`,
      413,
    );
};

const takeIn = async (
  site: Site,
  deliveryId: string,
  about: Signed<"uploadPhoto">,
  sent: Arrived | null,
): Promise<Reply<"uploadPhoto">> => {
  const store = site.store.open(deliveryId);
  const { sha256: id, by, ...said } = about;
  const filed = { ...said, name: photoName(said.name) };
  for (const { leaf } of about.shows) leafOf(store.read(), leaf);
  const state = () => site.measuring.measured(deliveryId).state(id);
  const there = store.read().photos.find((photo) => photo.id === id);
  const known = there !== undefined;
  if (there && store.photos.has(id)) {
    await store.uploads.drop(id);
    const further = notShownBy(there, about);
    if (further.length > 0)
      await store.change(by, `Photo ${there.name}, for ${names(further)} too`, (delivery) => {
        delivery.photos.find((photo) => photo.id === id)?.shows.push(...further);
      });
    return { id, known: true, state: state() };
  }

  const file = sent ?? (await store.uploads.finished(id));
  try {
    if (file.sha256 !== id) throw new Refusal("The photo arrived with other bytes than were sent: send it again.", 422);
    roomForPhoto(store, file.bytes);
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
  } catch (error) {
    // What is wrong with the file is wrong with all of it; what is wrong with us may be right at the next try.
    if (error instanceof Refusal && [400, 413, 415, 422].includes(error.status)) await store.uploads.drop(id);
    throw error;
  }
  await store.uploads.drop(id);
  site.measuring.wake(deliveryId);
  return { id, known, state: state() };
};

/** The last that was begun with each photo of each delivery. */
const turns = new Map<string, Promise<unknown>>();

/**
 * Takes a photo in: what arrived must have the hash that was sent with it, and be a photo. The file is on disk before the journal
 * names it. The same bytes a second time are the same photo: of many at once, one is looked at and the others find it there.
 * A file that was `sent` along is moved or left to the caller; null takes the one that came in parts.
 */
export const takeInPhoto = async (
  site: Site,
  deliveryId: string,
  about: Signed<"uploadPhoto">,
  sent: Arrived | null,
): Promise<Reply<"uploadPhoto">> => {
  if (sent && sent.sha256 !== about.sha256)
    throw new Refusal("The photo arrived with other bytes than were sent: send it again.", 422);
  const key = `${deliveryId} ${about.sha256}`;
  const before = turns.get(key) ?? Promise.resolve();
  const turn = before.catch(() => undefined).then(() => takeIn(site, deliveryId, about, sent));
  turns.set(key, turn);
  try {
    return await turn;
  } finally {
    if (turns.get(key) === turn) turns.delete(key);
  }
};
