import type { Body, Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";
import { leafOf, photoOf } from "./delivery-parts.ts";

/** Says what a photo shows: its kind, faces from left to right, and corners set by hand. It is measured again when that changed. */
export const filePhoto = async (
  site: Site,
  deliveryId: string,
  id: string,
  { by, kind, shows, note }: Body<"filePhoto">,
): Promise<Reply<"filePhoto">> => {
  const { seq } = await site.store.open(deliveryId).change(by, `Filed a photo: ${kind}`, (delivery) => {
    for (const { leaf } of shows) leafOf(delivery, leaf);
    const photo = photoOf(delivery, id);
    photo.kind = kind;
    photo.shows = shows;
    photo.note = note;
  });
  site.measuring.wake(deliveryId);
  return { seq };
};
