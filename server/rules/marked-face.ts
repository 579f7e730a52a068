import type { Delivery } from "../contract/delivery.ts";
import type { FaceSide } from "../contract/ids.ts";
import { whyNotInOpening } from "./leaf-fits-opening.ts";

/** A face that should not look into a space. */
export interface HiddenFace {
  readonly leaf: string;
  readonly face: FaceSide;
  readonly space: string;
}

/**
 * A face accepted with an allowance for a mark goes to the side where it is least seen: it is kept out of the space that
 * shows most openings of those the leaf can hang in. Nothing is asked when both faces carry marks, or when every space
 * shows one opening alone. Common practice, no source.
 */
export const hiddenFaces = (delivery: Delivery): HiddenFace[] =>
  delivery.leaves.flatMap((leaf) => {
    if (leaf.decision?.outcome !== "accept-with-allowance") return [];
    const marks = delivery.marks.filter(
      (mark) => mark.leaf === leaf.code && !mark.withdrawn && mark.kind !== "natural",
    );
    const [face, ...others] = new Set(marks.map((mark) => mark.face));
    if (!face || others.length > 0) return [];
    const fitting = delivery.openings.filter((opening) => whyNotInOpening(leaf, opening, delivery) === null);
    const shownIn = (space: string) => delivery.openings.filter(({ sides }) => sides.includes(space)).length;
    const spaces = new Set(fitting.flatMap(({ sides }) => sides.filter((space) => space !== null)));
    const [busiest] = [...spaces].toSorted((one, other) => shownIn(other) - shownIn(one) || (one < other ? -1 : 1));
    return busiest && shownIn(busiest) > 1 ? [{ leaf: leaf.code, face, space: busiest }] : [];
  });
