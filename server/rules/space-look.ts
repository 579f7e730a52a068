import type { Space } from "../../analysis/allot/allotment.ts";
import type { Delivery } from "../contract/delivery.ts";

type DeliverySpace = Delivery["spaces"][number];

/** ΔE00 that one L* back counts for more where lightness is to step one way: half again, so that a small step back gives way to a plain match. Ours. */
const stepBack = 0.5;

/** ΔE00 that a light face beside a dark one counts for more: about what a trained eye just sees side by side. Ours. */
const lightBesideDarkAdds = 1;

/**
 * How much accepted marks count in a space where nobody said so: a marked face goes into the room rather than the corridor, and into
 * the store before either. Common practice, no source; the numbers are ours.
 */
const usualMarksCount = { store: 0, room: 0.5, hall: 1, landing: 1, corridor: 1 } as const satisfies Record<
  DeliverySpace["kind"],
  number
>;

/**
 * A space as the allotment sees it. `seats` are the openings that look into it, each with the names under which the allotment knows
 * what stands there: its own, or those of faces that stay. `average` is the mean L* of the leaves that can hang there, null when unknown.
 */
export const spaceLook = (
  { id, kind, look }: DeliverySpace,
  seats: ReadonlyMap<string, readonly string[]>,
  average: number | null,
): Space => {
  if (!look) return { id, weight: 1, marksCount: usualMarksCount[kind] };
  return {
    id,
    weight: look.weight,
    walls: look.walls.map((wall) => wall.flatMap((opening) => seats.get(opening) ?? [])),
    marksCount: look.marksCount ?? usualMarksCount[kind],
    ...(look.gentle && { gentle: { goes: look.gentle, stepBack } }),
    ...(look.noLightBesideDark && average !== null && { lightBesideDark: { average, adds: lightBesideDarkAdds } }),
  };
};
