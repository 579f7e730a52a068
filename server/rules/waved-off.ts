import type { Delivery } from "../contract/delivery.ts";
import type { LeafView } from "../contract/views.ts";

type Proposed = LeafView["proposed"][number];
type Box = Proposed["box"];

const shared = (a: Box, b: Box): number => {
  const w = Math.min(a.x + a.w, b.x + b.w) - Math.max(a.x, b.x);
  const h = Math.min(a.y + a.h, b.y + b.h) - Math.max(a.y, b.y);
  return w > 0 && h > 0 ? w * h : 0;
};

/** Boxes that share half of what they cover together are one place: a photo measured anew moves it by a few mm. */
const samePlace = (a: Box, b: Box): boolean => {
  const both = shared(a, b);
  return both >= 0.5 * (a.w * a.h + b.w * b.h - both);
};

/** Whether somebody looked at a proposed place of a leaf and said that it is no mark. Common practice, no source. */
export const isWavedOff = (
  { wavedOff = [] }: Pick<Delivery, "wavedOff">,
  leaf: string,
  { face, box }: Proposed,
): boolean => wavedOff.some((one) => one.leaf === leaf && one.face === face && samePlace(one.box, box));
