import type { Body, Reply } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

/** Writes down when a leaf was unwrapped. The first time counts: it starts a claim window and is never moved. */
export const unwrapLeaf = async (
  site: Site,
  deliveryId: string,
  code: string,
  { by, at }: Body<"unwrapLeaf">,
): Promise<Reply<"unwrapLeaf">> => {
  const { seq } = await site.store.open(deliveryId).change(by, `Unwrapped ${code}`, (delivery) => {
    const leaf = leafOf(delivery, code);
    if (leaf.unwrappedAt !== null) throw new Refusal(`${code} was unwrapped already, at ${leaf.unwrappedAt}.`);
    if (Date.parse(at) < Date.parse(delivery.job.deliveredAt))
      throw new Refusal(`${code} cannot have been unwrapped before it was delivered.`, 422);
    leaf.unwrappedAt = at;
  });
  return { seq };
};
