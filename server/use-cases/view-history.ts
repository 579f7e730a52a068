import type { Reply } from "../contract/calls.ts";
import type { Actor } from "../contract/ids.ts";
import { mayTakeBack } from "../rules/may-take-back.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

type Lines = Reply<"history">;

/** The newest first; what somebody else may take back cannot be taken back by who looks. */
const seenBy = (lines: Lines, by: Actor): Lines =>
  lines.map((line) => ({ ...line, undoable: line.undoable && mayTakeBack(line, by) })).toReversed();

/** Every change of a delivery, the newest first. */
export const viewHistory = (site: Site, deliveryId: string, by: Actor): Lines =>
  seenBy([...site.store.open(deliveryId).history()], by);

/** Every change of one leaf, its photos and its marks, the newest first. */
export const viewLeafHistory = (site: Site, deliveryId: string, code: string, by: Actor): Lines => {
  const store = site.store.open(deliveryId);
  leafOf(store.read(), code);
  const ofLeaf = store.history().filter(({ leaves }) => leaves.includes(code));
  return seenBy(ofLeaf, by);
};
