import type { Delivery } from "../contract/delivery.ts";
import type { Photo } from "../contract/photo.ts";
import { fingerprintOf, measurementRequest } from "./measurement-request.ts";

/** What of the leaves has a part in a request. */
const leafKeys = new WeakMap<Delivery["leaves"], string>();

const keyOf = ({ leaves }: Delivery): string => {
  const key = leafKeys.get(leaves) ?? JSON.stringify(leaves.map(({ code, pattern }) => [code, pattern]));
  leafKeys.set(leaves, key);
  return key;
};

interface Asked {
  readonly key: string;
  readonly patterns: Delivery["patterns"];
  readonly fingerprint: string;
}

/** Of photos that are the same object as before: a change leaves all others as they are. */
const asked = new WeakMap<Photo, Asked>();

/**
 * What is asked of each photo, by its id, as the fingerprint of the request. Only what a change touched is worked out anew, so that
 * a delivery of thousands of photos can be asked after each entry.
 */
export const askedOfPhotos = (delivery: Delivery): ReadonlyMap<string, string> => {
  const { patterns } = delivery;
  const key = keyOf(delivery);
  return new Map(
    delivery.photos.map((photo) => {
      const before = asked.get(photo);
      if (before?.key === key && before.patterns === patterns) return [photo.id, before.fingerprint];
      const fingerprint = fingerprintOf(measurementRequest(delivery, photo, ""));
      asked.set(photo, { key, patterns, fingerprint });
      return [photo.id, fingerprint];
    }),
  );
};
