import type { Body, Reply } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import { whyNotInOpening } from "../rules/leaf-fits-opening.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

type Wishes = Body<"setWishes">;

const openingOf = ({ openings }: Delivery, id: string): Delivery["openings"][number] => {
  const opening = openings.find((one) => one.id === id);
  if (!opening) throw new Refusal(`There is no opening ${id} in the schedule.`, 422);
  return opening;
};

/** Refuses, by name, a leaf locked where it cannot hang. */
export const checkLocks = (locks: Wishes["locks"], delivery: Delivery): void => {
  locks.forEach(({ leaf, opening: id, place }, index) => {
    const opening = openingOf(delivery, id);
    const why =
      (opening.existingLeaf !== null && `${id} keeps the leaf that hangs there`) ||
      whyNotInOpening(leafOf(delivery, leaf), opening, delivery) ||
      (place >= opening.leaves && `${id} has one leaf only`) ||
      (locks.some((other, at) => at < index && other.leaf === leaf) && `${leaf} is locked twice`) ||
      (locks.some((other, at) => at < index && other.opening === id && other.place === place) &&
        `two leaves are locked to the same place of ${id}`);
    if (why) throw new Refusal(`${leaf} cannot be locked to ${id}: ${why}.`, 422);
  });
};

const checkBans = (bans: Wishes["bans"], delivery: Delivery): void => {
  for (const { leaf, opening, space } of bans) {
    leafOf(delivery, leaf);
    if (opening !== null) openingOf(delivery, opening);
    if (space !== null && !delivery.spaces.some(({ id }) => id === space))
      throw new Refusal(`There is no space ${space} in the schedule.`, 422);
    if (opening === null && space === null)
      throw new Refusal(`Say which opening or space ${leaf} is kept out of.`, 422);
  }
};

/** Replaces what people hold fast: leaves locked to openings, leaves kept out. The plan stays until it is planned again. */
export const setWishes = async (
  site: Site,
  deliveryId: string,
  { by, locks, bans }: Wishes,
): Promise<Reply<"setWishes">> => {
  const what = `Set ${locks.length} locks and ${bans.length} leaves kept out`;
  const { seq } = await site.store.open(deliveryId).change(by, what, (delivery) => {
    checkLocks(locks, delivery);
    checkBans(bans, delivery);
    delivery.allotment.locks = locks;
    delivery.allotment.bans = bans;
  });
  return { seq };
};
