import type { Label } from "../../analysis/locate/label-code.ts";
import type { Leaf } from "../contract/leaf.ts";
import type { Gate } from "../contract/photo.ts";

type Labelled = Pick<Leaf, "code" | "labelId">;

/** Which leaf of a delivery each label belongs to; undefined for a label of none. */
type LeafOfLabel = (label: Label) => string | undefined;

const known = new WeakMap<readonly Labelled[], LeafOfLabel>();

const leafOfLabel = (leaves: readonly Labelled[]): LeafOfLabel => {
  const codes = new Set(leaves.map(({ code }) => code));
  const byId = new Map(leaves.flatMap(({ code, labelId }) => (labelId === undefined ? [] : [[labelId, code]])));
  const read: LeafOfLabel = (label) => {
    if ("id" in label) return byId.get(label.id);
    return codes.has(label.leaf) ? label.leaf : undefined;
  };
  known.set(leaves, read);
  return read;
};

/**
 * A photo of one leaf that carries another leaf's label, or one of another delivery: filed wrongly, or labelled wrongly. A code that
 * is nobody's label says nothing. Common practice, no source.
 */
export const otherLabel = (
  shows: readonly { readonly leaf: string }[],
  labels: readonly Label[],
  leaves: readonly Labelled[],
): readonly Gate[] => {
  const [filed, ...others] = new Set(shows.map(({ leaf }) => leaf));
  if (!filed || others.length > 0 || labels.length === 0) return [];
  const gate = (advice: string): Gate[] => [{ gate: "other-label", value: 0, limit: 1, passed: false, advice }];
  const read = known.get(leaves) ?? leafOfLabel(leaves);
  for (const label of labels) {
    const leaf = read(label);
    if (leaf === filed) return [];
    if (leaf !== undefined)
      return gate(`The label in the picture says ${leaf}, but the photo is filed under ${filed}: see which is right.`);
    if ("id" in label)
      return gate("The label in the picture is of no leaf of this delivery: see whether the leaf belongs here.");
  }
  return [];
};
