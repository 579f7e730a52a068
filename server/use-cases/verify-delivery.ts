import type { Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";

/** Checks journal, photos and records of a delivery against their hashes. */
export const verifyDelivery = async (site: Site, deliveryId: string): Promise<Reply<"verify">> => {
  const { checked, faults } = await site.store.open(deliveryId).verify();
  return { sound: faults.length === 0, checked, faults };
};
