import type { Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

/** Every change of a delivery, the newest first. */
export const viewHistory = (site: Site, deliveryId: string): Reply<"history"> =>
  site.store.open(deliveryId).history().toReversed();

/** Every change of one leaf, its photos and its marks, the newest first. */
export const viewLeafHistory = (site: Site, deliveryId: string, code: string): Reply<"leafHistory"> => {
  const store = site.store.open(deliveryId);
  leafOf(store.read(), code);
  return store
    .history()
    .filter(({ leaves }) => leaves.includes(code))
    .toReversed();
};
