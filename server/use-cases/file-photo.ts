import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Photo } from "../contract/photo.ts";
import type { Site } from "../site.ts";
import { leafOf, photoOf } from "./delivery-parts.ts";
import { overwrite } from "./overwrite.ts";

type Filing = Pick<Photo, "kind" | "shows" | "note">;

const filingOf = ({ kind, shows, note }: Filing): Filing => ({ kind, shows, note });

const filingWords = ({ kind, shows, note }: Filing): string =>
  [kind, ...shows.map(({ leaf, face }) => `${leaf} face ${face}`), ...(note === "" ? [] : [note])].join(", ");

/** Says what a photo shows: its kind, faces from left to right, and corners set by hand. It is measured again when that changed. */
export const filePhoto = async (
  site: Site,
  deliveryId: string,
  id: string,
  body: Signed<"filePhoto">,
): Promise<Reply<"filePhoto">> => {
  const { kind, shows, note } = body;
  const what = `Filed a photo: ${kind}`;
  const thing = {
    what: "what a photo shows",
    leaf: shows[0]?.leaf ?? null,
    read: (delivery: Delivery) => filingOf(photoOf(delivery, id)),
    mine: filingOf(body),
    says: filingWords,
  };
  const filed = await overwrite(
    site,
    deliveryId,
    { call: "filePhoto", params: { photo: id }, body },
    thing,
    what,
    (delivery) => {
      for (const { leaf } of shows) leafOf(delivery, leaf);
      const photo = photoOf(delivery, id);
      photo.kind = kind;
      photo.shows = shows;
      photo.note = note;
    },
  );
  site.measuring.wake(deliveryId);
  return filed;
};
