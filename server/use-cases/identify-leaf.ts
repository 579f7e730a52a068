import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Leaf } from "../contract/leaf.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";
import { overwrite } from "./overwrite.ts";

const words = { "as-ordered": "as ordered", wrong: "not what was ordered", over: "over, not ordered" } as const;

/** Says whether a leaf is what was ordered. Refused while it is accepted: take that back first. */
export const identifyLeaf = async (
  site: Site,
  deliveryId: string,
  code: string,
  body: Signed<"identifyLeaf">,
): Promise<Reply<"identifyLeaf">> => {
  const { identity } = body;
  const what = `${code} is ${words[identity]}`;
  const thing = {
    what: `what ${code} is`,
    leaf: code,
    read: (delivery: Delivery) => leafOf(delivery, code).identity,
    mine: identity,
    says: (value: Leaf["identity"]) => words[value],
  };
  return overwrite(
    site,
    deliveryId,
    { call: "identifyLeaf", params: { leaf: code }, body },
    thing,
    what,
    (delivery) => {
      const leaf = leafOf(delivery, code);
      if (leaf.line === null) throw new Refusal(`${code} hangs here already and was not delivered.`);
      const outcome = leaf.decision?.outcome;
      if (identity !== "as-ordered" && (outcome === "accept" || outcome === "accept-with-allowance"))
        throw new Refusal(`${code} is accepted: take the decision back first.`);
      leaf.identity = identity;
    },
  );
};
