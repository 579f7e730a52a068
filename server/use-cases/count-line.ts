import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Site } from "../site.ts";
import { lineOf } from "./delivery-parts.ts";
import { overwrite } from "./overwrite.ts";

/** Writes down how many leaves of an order line came off the lorry; null takes the count back. */
export const countLine = async (
  site: Site,
  deliveryId: string,
  line: string,
  body: Signed<"countLine">,
): Promise<Reply<"countLine">> => {
  const { counted } = body;
  const what = counted === null ? `Took back the count of line ${line}` : `Counted ${counted} on line ${line}`;
  const thing = {
    what: `the count of line ${line}`,
    leaf: null,
    read: (delivery: Delivery) => lineOf(delivery, line).counted,
    mine: counted,
    says: (value: number | null) => (value === null ? "not counted" : `${value} leaves`),
  };
  return overwrite(site, deliveryId, { call: "countLine", params: { line }, body }, thing, what, (delivery) => {
    lineOf(delivery, line).counted = counted;
  });
};
