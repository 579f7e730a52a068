import type { Body, Reply } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Leaf } from "../contract/leaf.ts";
import { Refusal } from "../problem.ts";
import { unitOf, whyNot } from "../rules/leaf-decision.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

type Wanted = NonNullable<Body<"decideLeaf">["decision"]>;

const checkWanted = (leaf: Leaf, wanted: Wanted, delivery: Delivery): void => {
  const why = whyNot(leaf, wanted.outcome, delivery);
  if (why !== null) throw new Refusal(why);
  if (wanted.outcome !== "accept" && wanted.reason.trim() === "") throw new Refusal("Say why, in a sentence.", 422);
  if (wanted.outcome === "accept-with-allowance" && !wanted.allowance)
    throw new Refusal("Say how much is asked off the price.", 422);
  if (wanted.outcome !== "accept-with-allowance" && wanted.allowance !== null)
    throw new Refusal("An allowance goes with accepting a leaf with an allowance, with nothing else.", 422);
  const unitPrice = unitOf(leaf, delivery.leaves).reduce((sum, one) => sum + priceOf(one, delivery), 0);
  if (wanted.allowance !== null && wanted.allowance > unitPrice)
    throw new Refusal(`${wanted.allowance} is more than the price of ${unitPrice}: return the leaf instead.`, 422);
};

const priceOf = ({ line }: Leaf, { lines }: Delivery): number => lines.find(({ id }) => id === line)?.price ?? 0;

/**
 * Decides about a leaf, or takes the decision back (null). A pair is decided as one unit; an allowance is asked once, on the leaf
 * it was entered for. Refused with the rule's sentence.
 */
export const decideLeaf = async (
  site: Site,
  deliveryId: string,
  code: string,
  { by, decision }: Body<"decideLeaf">,
): Promise<Reply<"decideLeaf">> => {
  const store = site.store.open(deliveryId);
  const what = decision ? `${code}: ${decision.outcome.replaceAll("-", " ")}` : `Took back the decision on ${code}`;
  const { seq } = await store.change(by, what, (delivery) => {
    if (decision) checkWanted(leafOf(delivery, code), decision, delivery);
    for (const leaf of unitOf(leafOf(delivery, code), delivery.leaves)) {
      const allowance = decision?.outcome === "accept-with-allowance" && leaf.code !== code ? 0 : decision?.allowance;
      leaf.decision = decision && { ...decision, allowance: allowance ?? null, by: by.name, at: site.now() };
    }
  });
  return { seq };
};
