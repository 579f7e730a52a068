import type { Body, Reply } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";

type Look = NonNullable<Delivery["spaces"][number]["look"]>;

/** Refuses, by name, what cannot stand on the walls of a space. */
const checkWalls = ({ walls }: Look, space: Delivery["spaces"][number], { openings }: Delivery): void => {
  const named = walls.flat();
  named.forEach((id, index) => {
    const opening = openings.find((one) => one.id === id);
    if (!opening) throw new Refusal(`There is no opening ${id} in the schedule.`, 422);
    if (!opening.sides.includes(space.id))
      throw new Refusal(`${id} does not look into ${space.name}: take it off its walls.`, 422);
    if (named.indexOf(id) < index)
      throw new Refusal(`${id} stands twice on the walls of ${space.name}: name it once.`, 422);
  });
};

/** Sets how faces are seen: what they count for by where they stand, and how spaces are looked at. The plan stays until it is planned again. */
export const setSight = async (
  site: Site,
  deliveryId: string,
  { by, sight, spaces }: Body<"setSight">,
): Promise<Reply<"setSight">> => {
  const { seq } = await site.store.open(deliveryId).change(by, "Set how faces are seen", (delivery) => {
    delivery.allotment.sight = sight;
    for (const { id, look } of spaces) {
      const space = delivery.spaces.find((one) => one.id === id);
      if (!space) throw new Refusal(`There is no space ${id} in the schedule.`, 422);
      if (look === null) {
        delete space.look;
        continue;
      }
      checkWalls(look, space, delivery);
      space.look = look;
    }
  });
  return { seq };
};
