import type { Body, Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";
import { lineOf } from "./delivery-parts.ts";

/** Writes down how many leaves of an order line came off the lorry; null takes the count back. */
export const countLine = async (
  site: Site,
  deliveryId: string,
  line: string,
  { by, counted }: Body<"countLine">,
): Promise<Reply<"countLine">> => {
  const what = counted === null ? `Took back the count of line ${line}` : `Counted ${counted} on line ${line}`;
  const { seq } = await site.store.open(deliveryId).change(by, what, (delivery) => {
    lineOf(delivery, line).counted = counted;
  });
  return { seq };
};
