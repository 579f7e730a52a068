import type { Body, Reply } from "../contract/calls.ts";
import { leafLeftBehind } from "../rules/leaf-left-behind.ts";
import type { Site } from "../site.ts";

/** Takes one change back by a new one; refused when later changes rest on it or still name a leaf that would go. */
export const undoChange = async (site: Site, deliveryId: string, { by, seq }: Body<"undo">): Promise<Reply<"undo">> => {
  const undone = await site.store.open(deliveryId).undo(by, seq, leafLeftBehind);
  site.measuring.wake(deliveryId);
  return undone;
};
