import type { Delivery } from "../contract/delivery.ts";
import type { FaceSide } from "../contract/ids.ts";

/**
 * What the marks on a face of an accepted leaf count for when it is allotted, ΔE00: the contrast of the one seen most, and at least
 * the tolerance, since a mark one can find is looked at again; 0 without one. Natural features do not count. Common practice, no source.
 */
export const acceptedMark = (
  { leaves, marks, terms }: Pick<Delivery, "leaves" | "marks" | "terms">,
  code: string,
  face: FaceSide,
): number => {
  const outcome = leaves.find((leaf) => leaf.code === code)?.decision?.outcome;
  if (outcome !== "accept" && outcome !== "accept-with-allowance") return 0;
  return marks
    .filter((mark) => mark.leaf === code && mark.face === face && !mark.withdrawn && mark.kind !== "natural")
    .reduce((most, { contrastDE00 }) => Math.max(most, contrastDE00 ?? 0, terms.toleranceDE00), 0);
};
