import type { Delivery } from "../contract/delivery.ts";

/** Openings whose leaf is planned, accepted and on site: all leaves of the opening, or it is not ready. */
export const readyToHang = ({ openings, allotment, leaves }: Delivery): { opening: string; leaf: string }[] => {
  const accepted = new Set(
    leaves
      .filter(({ identity }) => identity === "as-ordered")
      .filter(({ decision }) => decision?.outcome === "accept" || decision?.outcome === "accept-with-allowance")
      .map(({ code }) => code),
  );
  return openings.flatMap((opening) => {
    const placed = allotment.plan.filter((place) => place.opening === opening.id && accepted.has(place.leaf));
    return placed.length === opening.leaves ? placed.map(({ leaf }) => ({ opening: opening.id, leaf })) : [];
  });
};
