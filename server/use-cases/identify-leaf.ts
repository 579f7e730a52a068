import type { Body, Reply } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

const words = { "as-ordered": "as ordered", wrong: "not what was ordered", over: "over, not ordered" } as const;

/** Says whether a leaf is what was ordered. Refused while it is accepted: take that back first. */
export const identifyLeaf = async (
  site: Site,
  deliveryId: string,
  code: string,
  { by, identity }: Body<"identifyLeaf">,
): Promise<Reply<"identifyLeaf">> => {
  const { seq } = await site.store.open(deliveryId).change(by, `${code} is ${words[identity]}`, (delivery) => {
    const leaf = leafOf(delivery, code);
    if (leaf.line === null) throw new Refusal(`${code} hangs here already and was not delivered.`);
    const outcome = leaf.decision?.outcome;
    if (identity !== "as-ordered" && (outcome === "accept" || outcome === "accept-with-allowance"))
      throw new Refusal(`${code} is accepted: take the decision back first.`);
    leaf.identity = identity;
  });
  return { seq };
};
