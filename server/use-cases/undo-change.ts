import type { Body, Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";

/** Takes one change back by a new one; refused when later changes rest on it. */
export const undoChange = async (site: Site, deliveryId: string, { by, seq }: Body<"undo">): Promise<Reply<"undo">> => {
  const undone = await site.store.open(deliveryId).undo(by, seq);
  site.measuring.wake(deliveryId);
  return undone;
};
