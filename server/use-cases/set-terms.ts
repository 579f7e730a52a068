import type { Body, Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";

/** Replaces the supplier's terms; windows and judgements follow from the new ones at once. */
export const setTerms = async (
  site: Site,
  deliveryId: string,
  { by, terms }: Body<"setTerms">,
): Promise<Reply<"setTerms">> => {
  const { seq } = await site.store.open(deliveryId).change(by, "Changed the supplier's terms", (delivery) => {
    delivery.terms = terms;
  });
  site.measuring.wake(deliveryId);
  return { seq };
};
