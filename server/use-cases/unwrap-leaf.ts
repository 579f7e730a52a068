import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";
import { overwrite } from "./overwrite.ts";

/** A clock that goes a little ahead is no lie, ms. */
const aheadMs = 5 * 60_000;

/**
 * Writes down when a leaf was unwrapped. The first time counts, since it starts a claim window: what is there is never moved to a
 * later one. An earlier one that another entered too is set beside it until it is settled which is right.
 */
export const unwrapLeaf = async (
  site: Site,
  deliveryId: string,
  code: string,
  body: Signed<"unwrapLeaf">,
): Promise<Reply<"unwrapLeaf">> => {
  const { at } = body;
  const what = `Unwrapped ${code}`;
  const thing = {
    what: `when ${code} was unwrapped`,
    leaf: code,
    read: (delivery: Delivery) => leafOf(delivery, code).unwrappedAt,
    mine: at,
    says: (value: string | null) => (value === null ? "not unwrapped" : `unwrapped ${value}`),
  };
  return overwrite(site, deliveryId, { call: "unwrapLeaf", params: { leaf: code }, body }, thing, what, (delivery) => {
    const leaf = leafOf(delivery, code);
    if (Date.parse(at) > Date.parse(site.now()) + aheadMs)
      throw new Refusal(`${code} cannot be unwrapped later than now: look at the time you entered.`, 422);
    if (leaf.unwrappedAt !== null && Date.parse(leaf.unwrappedAt) <= Date.parse(at))
      throw new Refusal(`${code} was unwrapped already, at ${leaf.unwrappedAt}.`);
    if (Date.parse(at) < Date.parse(delivery.job.deliveredAt))
      throw new Refusal(`${code} cannot have been unwrapped before it was delivered.`, 422);
    leaf.unwrappedAt = at;
  });
};
