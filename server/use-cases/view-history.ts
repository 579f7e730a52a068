import type { Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";

/** Every change of a delivery, the newest first. */
export const viewHistory = (site: Site, deliveryId: string): Reply<"history"> =>
  site.store.open(deliveryId).history().toReversed();
