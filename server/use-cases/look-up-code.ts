import { readLabel } from "../../analysis/locate/label-code.ts";
import type { Body, Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";

const notOurs = "This is not one of our codes.";

/** Whose code it is: a leaf of this delivery, a leaf of another one, or nobody's we know. */
export const lookUpCode = (site: Site, deliveryId: string, { text }: Body<"lookUpCode">): Reply<"lookUpCode"> => {
  const label = readLabel(text);
  if (label === null) return { leaf: null, says: notOurs };
  const { leaves } = site.store.open(deliveryId).read();
  const leaf = leaves.find(({ code, labelId }) => ("id" in label ? labelId === label.id : code === label.leaf));
  if (leaf) return { leaf: leaf.code, says: `Leaf ${leaf.code}.` };
  if (!("id" in label)) return { leaf: null, says: notOurs };
  for (const id of site.store.list()) {
    const other = site.store.open(id).read();
    if (other.leaves.some(({ labelId }) => labelId === label.id))
      return { leaf: null, says: `This label belongs to delivery ${other.job.name}.` };
  }
  return { leaf: null, says: "This label belongs to no leaf any more: print a new one." };
};
