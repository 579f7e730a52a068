import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { SupplierTerms } from "../contract/terms.ts";
import type { Site } from "../site.ts";
import { overwrite } from "./overwrite.ts";

const termsWords = ({ toleranceDE00, confidence, windows, marks }: SupplierTerms): string =>
  `tolerance ${toleranceDE00} at ${confidence}, ${windows.length} claim windows, ${marks.length} limits of marks`;

/** Replaces the supplier's terms; windows and judgements follow from the new ones at once. */
export const setTerms = async (
  site: Site,
  deliveryId: string,
  body: Signed<"setTerms">,
): Promise<Reply<"setTerms">> => {
  const { terms } = body;
  const what = "Changed the supplier's terms";
  const thing = {
    what: "the supplier's terms",
    leaf: null,
    read: (delivery: Delivery) => delivery.terms,
    mine: terms,
    says: termsWords,
  };
  const set = await overwrite(site, deliveryId, { call: "setTerms", params: {}, body }, thing, what, (delivery) => {
    delivery.terms = terms;
  });
  site.measuring.wake(deliveryId);
  return set;
};
