import type * as z from "zod";
import type { Opening, placed } from "../contract/delivery.ts";
import type { FaceSide } from "../contract/ids.ts";

export type Placed = z.infer<typeof placed>;

const other = (side: "left" | "right"): "left" | "right" => (side === "left" ? "right" : "left");

/** The side of the opening (0 or 1) that a face looks into: face A into side 0 unless the leaf is turned. */
export const sideOfFace = (face: FaceSide, turned: boolean): 0 | 1 => ((face === "A") === turned ? 1 : 0);

/** The face that looks into a side of the opening. */
export const faceOfSide = (side: 0 | 1, turned: boolean): FaceSide => ((side === 0) === turned ? "B" : "A");

/**
 * The hinge side of a leaf as seen from a side of its opening; null where the schedule does not tell it. In a pair the
 * left leaf as seen from side 0 hangs on the left.
 */
export const hangingSide = (opening: Opening, place: 0 | 1, seenFrom: 0 | 1): "left" | "right" | null => {
  const pairSide = place === 0 ? "left" : "right";
  if (opening.leaves === 2) return seenFrom === 0 ? pairSide : other(pairSide);
  if (!opening.hinge) return null;
  return opening.hinge.seenFrom === seenFrom ? opening.hinge.side : other(opening.hinge.side);
};
