import { randomBytes } from "node:crypto";
import { labelId } from "../../analysis/locate/label-code.ts";
import type { Body, Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { lineOf, patternOf } from "./delivery-parts.ts";

/** Puts a leaf that nothing is known of but what its label says into a delivery's draft. */
export const putLeaf = (delivery: Delivery, leaf: Body<"addLeaf">["leaf"]): void => {
  const line = leaf.line === null ? null : lineOf(delivery, leaf.line);
  const other =
    line?.leavesPerUnit === 2 && leaf.identity === "as-ordered"
      ? delivery.leaves.find((one) => one.line === line.id && one.pairWith === null && one.identity === "as-ordered")
      : undefined;
  if (other) other.pairWith = leaf.code;
  delivery.leaves.push({
    ...leaf,
    thicknessMm: line?.thicknessMm ?? null,
    batch: null,
    pairWith: other?.code ?? null,
    massKg: null,
    unwrappedAt: null,
    cut: false,
    shape: [],
    decision: null,
    labelId: labelId(randomBytes(13)),
  });
};

/**
 * Adds a leaf under the code on its label. On a line ordered in pairs it becomes the other leaf of the first one there that has
 * none. Refused when the code is taken or line, pattern or the leaf it replaces are not known.
 */
export const addLeaf = async (
  site: Site,
  deliveryId: string,
  { by, leaf }: Signed<"addLeaf">,
): Promise<Reply<"addLeaf">> => {
  const { seq } = await site.store.open(deliveryId).change(by, `Added leaf ${leaf.code}`, (delivery) => {
    if (delivery.leaves.some(({ code }) => code === leaf.code))
      throw new Refusal(
        `There is a leaf ${leaf.code} already: look at its label again, or give this one another code.`,
      );
    if (leaf.replaces !== null && !delivery.leaves.some(({ code }) => code === leaf.replaces))
      throw new Refusal(`There is no leaf ${leaf.replaces} that this one could replace.`, 422);
    patternOf(delivery, leaf.pattern);
    putLeaf(delivery, leaf);
  });
  return { seq };
};
