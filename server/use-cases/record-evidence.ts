import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import { sha256Of } from "../records/canonical.ts";
import { cropOf, type WantedPicture, wantedPictures } from "../records/record-pictures.ts";
import type { LeafRecord, RecordPicture } from "../records/record-schema.ts";
import type { DeliveryStore, Site } from "../site.ts";
import { originalState } from "./original-state.ts";

/** Longest side of a photo printed as taken, px. */
const printedPx = 1000;

type RecordPhoto = LeafRecord["photos"][number];

/** What a record shows: every photo with its copy to send, every picture to print. The files lie in the folder given. */
export interface Evidence {
  readonly photos: RecordPhoto[];
  readonly pictures: RecordPicture[];
}

const gone = {
  changed: "The original was changed since it came in; it is not shown.",
  missing: "The original is missing from the store.",
} as const;

/** A photo that cannot be opened is said to be so and holds up nothing; a darkroom that is busy does. */
const notMade = (error: unknown, why: string): { kind: "missing"; why: string } => {
  if (error instanceof Refusal && error.status === 503) throw error;
  return { kind: "missing", why };
};

/** Does a piece of work once, however often it is asked for. */
const once = <T>() => {
  const done = new Map<string, Promise<T>>();
  return (key: string, make: () => Promise<T>): Promise<T> => {
    const known = done.get(key) ?? make();
    done.set(key, known);
    return known;
  };
};

/**
 * Gathers what records of a delivery show, in a folder for the files made. What was made once is not made again: gathering
 * before the delivery's turn leaves little to do in it.
 */
export const evidenceIn = (site: Site, store: DeliveryStore, deliveryId: string, folder: string) => {
  const states = once<RecordPhoto["original"]>();
  const copies = once<RecordPhoto["copy"]>();
  const copyPath = (id: string): string => join(folder, `copy-${id}.jpg`);
  const pictures = once<RecordPicture["copy"]>();

  const copyOf = (id: string, original: RecordPhoto["original"]) =>
    copies(id, async () => {
      if (original !== "as-received") return { kind: "missing", why: gone[original] };
      try {
        const { bytes, removed } = await site.darkroom.supplierCopy(store.photos.path(id), copyPath(id));
        const sha256 = sha256Of(await readFile(copyPath(id)));
        return { kind: "made", name: "", sha256, bytes, removed: [...removed] };
      } catch (error) {
        return notMade(error, "No copy could be made of this photo.");
      }
    });

  const photosOf = async (delivery: Delivery, leaves: readonly string[], wanted: readonly WantedPicture[]) => {
    const shown = delivery.photos.filter(
      ({ id, shows }) => shows.some(({ leaf }) => leaves.includes(leaf)) || wanted.some(({ photo }) => photo === id),
    );
    const photos: RecordPhoto[] = [];
    for (const [index, photo] of shown.entries()) {
      const original = await states(photo.id, () => originalState(store.photos, photo.id));
      const copy = await copyOf(photo.id, original);
      const name = `photo-${String(index + 1).padStart(3, "0")}.jpg`;
      photos.push({ ...photo, original, copy: copy.kind === "made" ? { ...copy, name } : copy });
    }
    return photos;
  };

  const pictureOf = (wanted: WantedPicture, { patterns, leaves }: Delivery, photos: readonly RecordPhoto[]) =>
    pictures(JSON.stringify(wanted), async () => {
      const original = photos.find(({ id }) => id === wanted.photo)?.original ?? "missing";
      if (original !== "as-received") return { kind: "missing", why: gone[original] };
      const path = store.photos.path(wanted.photo);
      const pattern = patterns.find(({ id }) => id === leaves.find(({ code }) => code === wanted.leaf)?.pattern);
      const crop = pattern ? cropOf(wanted, pattern) : null;
      try {
        const jpeg = await (crop ? site.darkroom.crop(path, crop) : site.darkroom.preview(path, printedPx));
        await writeFile(join(folder, `${wanted.name}.jpg`), jpeg);
        return { kind: "made", sha256: sha256Of(jpeg), bytes: jpeg.length };
      } catch (error) {
        return notMade(error, "No picture could be made from this photo.");
      }
    });

  return {
    copyPath,
    gather: async (delivery: Delivery, leaves: readonly string[]): Promise<Evidence> => {
      const measured = site.measuring.measured(deliveryId);
      const wanted = wantedPictures(delivery, leaves, (photo, face) => measured.corners(photo, face));
      const photos = await photosOf(delivery, leaves, wanted);
      const made: RecordPicture[] = [];
      for (const picture of wanted) made.push({ ...picture, copy: await pictureOf(picture, delivery, photos) });
      return { photos, pictures: made };
    },
  };
};
