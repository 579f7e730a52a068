import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery, SightWeights } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import { usualSight } from "../rules/sight-weights.ts";
import type { Site } from "../site.ts";
import { overwrite } from "./overwrite.ts";

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

interface Seen {
  readonly sight: SightWeights;
  readonly looks: ReadonlyMap<string, Look | null>;
}

const sightWords = ({ sight, looks }: Seen): string =>
  [
    ...Object.entries(sight).map(([name, weight]) => `${name} ${weight}`),
    ...[...looks].map(([id, look]) => `${id} ${look === null ? "as usual" : `counts ${look.weight}`}`),
  ].join(", ");

/** Sets how faces are seen: what they count for by where they stand, and how spaces are looked at. The plan stays until it is planned again. */
export const setSight = async (
  site: Site,
  deliveryId: string,
  body: Signed<"setSight">,
): Promise<Reply<"setSight">> => {
  const { sight, spaces } = body;
  const named = new Set(spaces.map(({ id }) => id));
  const thing = {
    what: "how faces are seen",
    leaf: null,
    read: (delivery: Delivery) => ({
      sight: delivery.allotment.sight ?? usualSight,
      looks: new Map(delivery.spaces.flatMap(({ id, look }) => (named.has(id) ? [[id, look ?? null] as const] : []))),
    }),
    mine: { sight, looks: new Map(spaces.map(({ id, look }) => [id, look] as const)) },
    says: sightWords,
  };
  const what = "Set how faces are seen";
  return overwrite(site, deliveryId, { call: "setSight", params: {}, body }, thing, what, (delivery) => {
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
};
