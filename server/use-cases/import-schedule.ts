import { isDeepStrictEqual } from "node:util";
import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { scheduleIn } from "./read-files.ts";

type Space = Delivery["spaces"][number];

/** How the space was looked at before, without the openings that are no longer on its walls. */
const lookKept = (space: Space, before: readonly Space[], openings: Delivery["openings"]): Space => {
  const look = before.find(({ id }) => id === space.id)?.look;
  if (!look) return space;
  const seen = new Set(openings.filter(({ sides }) => sides.includes(space.id)).map(({ id }) => id));
  const walls = look.walls.map((wall) => wall.filter((opening) => seen.has(opening)));
  return { ...space, look: { ...look, walls } };
};

/**
 * Takes a corrected door schedule. Leaves, photos and what was decided stay, and so do places of the plan whose opening is still
 * there and how spaces are looked at; an opening or space that a lock or a ban names may not go. Refused with every fault of the file named.
 */
export const importSchedule = async (
  site: Site,
  deliveryId: string,
  { by, csv }: Signed<"importSchedule">,
): Promise<Reply<"importSchedule">> => {
  const store = site.store.open(deliveryId);
  const { lines } = store.read();
  const read = await scheduleIn(site, csv, lines); // before the delivery's turn: a large file takes a while
  const { seq } = await store.change(by, "Took in a door schedule", async (delivery, before) => {
    const { openings, spaces, patterns, existing } = isDeepStrictEqual(before.document.lines, lines)
      ? read
      : await scheduleIn(site, csv, before.document.lines);
    const kept = new Set([...openings, ...spaces].map(({ id }) => id));
    const { locks, bans } = delivery.allotment;
    const wished = [...locks, ...bans].flatMap((wish) => [wish.opening, "space" in wish ? wish.space : null]);
    const lost = wished.find((id) => id !== null && !kept.has(id));
    if (lost)
      throw new Refusal(`The new schedule has no ${lost}, which a lock or a ban names: take that back first.`, 422);
    delivery.openings = openings;
    delivery.spaces = spaces.map((space) => lookKept(space, delivery.spaces, openings));
    delivery.allotment.plan = delivery.allotment.plan.filter(({ opening }) => kept.has(opening));
    const patternIds = new Set(delivery.patterns.map(({ id }) => id));
    delivery.patterns.push(...patterns.filter(({ id }) => !patternIds.has(id)));
    const codes = new Set(delivery.leaves.map(({ code }) => code));
    delivery.leaves.push(...existing.filter(({ code }) => !codes.has(code)));
  });
  return { seq };
};
