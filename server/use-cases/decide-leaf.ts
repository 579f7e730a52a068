import type { Body, Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Leaf } from "../contract/leaf.ts";
import { Refusal } from "../problem.ts";
import { unitOf, whyNot } from "../rules/leaf-decision.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";
import { overwrite } from "./overwrite.ts";

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

/** A decision without who took it and when. */
const wishOf = (decision: Leaf["decision"]): Wanted | null => {
  if (decision === null) return null;
  const { by: _, at: __, ...wish } = decision;
  return wish;
};

const decisionWords = (wish: Wanted | null): string =>
  wish === null
    ? "undecided"
    : [wish.outcome.replaceAll("-", " "), ...(wish.reason === "" ? [] : [wish.reason])].join(": ");

/**
 * Decides about a leaf, or takes the decision back (null). A pair is decided as one unit; an allowance is asked once, on the leaf
 * it was entered for. Refused with the rule's sentence.
 */
export const decideLeaf = async (
  site: Site,
  deliveryId: string,
  code: string,
  body: Signed<"decideLeaf">,
): Promise<Reply<"decideLeaf">> => {
  const { by, decision } = body;
  const what = decision ? `${code}: ${decision.outcome.replaceAll("-", " ")}` : `Took back the decision on ${code}`;
  const thing = {
    what: `the decision on ${code}`,
    leaf: code,
    read: (delivery: Delivery) => wishOf(leafOf(delivery, code).decision),
    mine: decision,
    says: decisionWords,
  };
  return overwrite(site, deliveryId, { call: "decideLeaf", params: { leaf: code }, body }, thing, what, (delivery) => {
    if (decision) checkWanted(leafOf(delivery, code), decision, delivery);
    for (const leaf of unitOf(leafOf(delivery, code), delivery.leaves)) {
      const allowance = decision?.outcome === "accept-with-allowance" && leaf.code !== code ? 0 : decision?.allowance;
      leaf.decision = decision && { ...decision, allowance: allowance ?? null, by: by.name, at: site.now() };
    }
  });
};
