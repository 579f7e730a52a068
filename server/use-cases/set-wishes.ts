import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import { whyNotInOpening } from "../rules/leaf-fits-opening.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";
import { overwrite } from "./overwrite.ts";

type Wishes = Signed<"setWishes">;

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

const wishWords = ({ locks, bans }: Pick<Wishes, "locks" | "bans">): string =>
  [
    ...locks.map(({ leaf, opening }) => `${leaf} held in ${opening}`),
    ...bans.map(({ leaf, opening, space }) => `${leaf} not in ${opening ?? space}`),
  ].join(", ") || "none";

/** Replaces what people hold fast: leaves locked to openings, leaves kept out. The plan stays until it is planned again. */
export const setWishes = async (site: Site, deliveryId: string, body: Wishes): Promise<Reply<"setWishes">> => {
  const { locks, bans } = body;
  const what = `Set ${locks.length} locks and ${bans.length} leaves kept out`;
  const thing = {
    what: "which leaves are held or kept out",
    leaf: null,
    read: ({ allotment }: Delivery) => ({ locks: allotment.locks, bans: allotment.bans }),
    mine: { locks, bans },
    says: wishWords,
  };
  return overwrite(site, deliveryId, { call: "setWishes", params: {}, body }, thing, what, (delivery) => {
    checkLocks(locks, delivery);
    checkBans(bans, delivery);
    delivery.allotment.locks = locks;
    delivery.allotment.bans = bans;
  });
};
