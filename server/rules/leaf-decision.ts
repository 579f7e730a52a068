import type { Delivery } from "../contract/delivery.ts";
import type { Leaf, Outcome } from "../contract/leaf.ts";
import { wholeFace } from "./face-coverage.ts";
import { judgeShape } from "./leaf-shape.ts";
import { judgeMark } from "./mark-limits.ts";

/** The leaves that are decided together: a matched pair is one unit, claimed or taken as one. */
export const unitOf = (leaf: Leaf, leaves: readonly Leaf[]): Leaf[] =>
  leaves.filter(({ code }) => code === leaf.code || code === leaf.pairWith);

const facesSeen = (leaf: Leaf, { photos }: Delivery): number =>
  (["A", "B"] as const).filter((face) => wholeFace(photos, leaf.code, face).length > 0).length;

/** What speaks against taking a leaf as it is: a mark or a shape beyond its limit. */
const beyondLimits = (leaf: Leaf, { marks, terms }: Delivery): string | null => {
  const mark = marks
    .filter((one) => one.leaf === leaf.code && !one.withdrawn)
    .find((one) => judgeMark(one, terms).verdict === "beyond-limits");
  if (mark)
    return `The ${mark.kind.replace("-", " ")} on face ${mark.face} of ${leaf.code} is beyond its limit: ask for an allowance, hold or return the leaf.`;
  const shape = judgeShape(leaf, terms.shape).find((one) => one.standing === "beyond");
  return shape ? `${leaf.code}: ${shape.why}. Hold it and measure again, or return it.` : null;
};

const notYetSeen = (leaf: Leaf, delivery: Delivery, faces: number): string | null => {
  if (leaf.unwrappedAt === null) return `Unwrap ${leaf.code} first.`;
  const seen = facesSeen(leaf, delivery);
  if (seen >= faces) return null;
  return faces === 2 ? `Photograph both faces of ${leaf.code} first.` : `Photograph a face of ${leaf.code} first.`;
};

const notOrdered = (leaf: Leaf): string | null => {
  if (leaf.identity === "wrong") return `${leaf.code} is not what was ordered: hold or return it.`;
  if (leaf.identity === "over")
    return `${leaf.code} was not ordered: to use it is to accept it. Hold it, or return it, and ask the supplier.`;
  return null;
};

const cutLeaf = (leaf: Leaf): string | null =>
  leaf.cut ? `${leaf.code} has been cut: a cut leaf is taken and cannot go back.` : null;

/**
 * Why a decision about a leaf cannot be taken, in a sentence, or null when it can. Taking a leaf asks for both faces
 * unwrapped and photographed; holding and returning for one. For a pair both leaves must stand the question.
 * Cutting is an act inconsistent with the seller's ownership, the plain example of acceptance (UK Sale and Supply of Goods
 * Act 1994 s2; the example is common practice). Accepting part of a commercial unit accepts all of it (UCC 2-606).
 */
export const whyNot = (leaf: Leaf, outcome: Outcome, delivery: Delivery): string | null => {
  if (leaf.line === null) return `${leaf.code} hangs here already: there is nothing to decide.`;
  for (const one of unitOf(leaf, delivery.leaves)) {
    const taking = outcome === "accept" || outcome === "accept-with-allowance";
    const why =
      (taking && notOrdered(one)) ||
      notYetSeen(one, delivery, taking ? 2 : 1) ||
      (outcome === "accept" && beyondLimits(one, delivery)) ||
      (outcome === "return" && cutLeaf(one)) ||
      null;
    if (why) return why;
  }
  return null;
};
